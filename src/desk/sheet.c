// SPDX-License-Identifier: GPL-3.0-or-later
/// What is handed over from the page: sheets in the forms that the commands write.
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/memory.h"
#include "countwright/print.h"
#include "countwright/sheet.h"
#include "countwright/web_sheet.h"
#include "desk/answer.h"
#include "desk/desk.h"
#include "desk/routes.h"

/// Bytes of a recording that goes into a page.
#define MOST_INSIDE ((uint64_t)64 << 20)

static CwStatus as_pdf(const CwSheet *sheet, FILE *out)
{
  const CwPage page = {.paper = CW_PAPER_A4};
  return cw_sheet_pdf(sheet, &page, out);
}

static CwStatus as_text(const CwSheet *sheet, FILE *out)
{
  return cw_sheet_text(sheet, 80, out);
}

static CwStatus as_table(const CwSheet *sheet, FILE *out)
{
  return cw_sheet_csv(sheet, out);
}

static const struct {
  const char *form;
  const char *type;
  CwStatus (*write)(const CwSheet *sheet, FILE *out); ///< NULL: a page with the music in it
  bool attached;                                      ///< to be kept, not shown
} forms[] = {{"pdf", "application/pdf", as_pdf, false},
             {"txt", "text/plain; charset=utf-8", as_text, false},
             {"csv", "text/csv; charset=utf-8", as_table, true},
             {"html", "application/octet-stream", NULL, true}}; // its own policy holds where it is opened
enum { N_FORMS = sizeof forms / sizeof forms[0] };

/// Offer the file under the piece's name, as far as a field can hold it.
static void name_file(DeskResponse *response, const DeskPiece *piece, size_t form)
{
  char name[100] = "";
  size_t n = 0;
  const char *ending = strrchr(piece->name, '.');
  for (const char *c = piece->name; *c && c != ending && n + 1 < sizeof name; c++) {
    const bool plain = *c >= ' ' && *c < 0x7F && *c != '"' && *c != '\\';
    name[n++] = plain ? *c : '_';
  }
  char field[160];
  const char *how = forms[form].attached ? "attachment" : "inline";
  snprintf(field, sizeof field, "%s; filename=\"%s.%s\"", how, name, forms[form].form);
  desk_field(response, "Content-Disposition", field);
}

/// The page with the music in it, when that is not too long to be sent.
static CwStatus write_page(const DeskPiece *piece, const CwSheet *sheet, FILE *out)
{
  CwWebSheet web = {.line = piece->state == DESK_READY ? &piece->line : NULL};
  char *sound = NULL;
  struct stat facts;
  const int fd = web.line ? desk_open_file(piece->desk->place.folder, piece->recording, &facts) : -1;
  if (fd >= 0 && (uint64_t)facts.st_size <= MOST_INSIDE && facts.st_size > 0) {
    sound = cw_new((size_t)facts.st_size, 1);
    if (sound && pread(fd, sound, (size_t)facts.st_size, 0) == (ssize_t)facts.st_size) {
      web.sound = sound;
      web.sound_size = (size_t)facts.st_size;
      web.sound_type = desk_type_of(piece->recording);
    }
  }
  if (fd >= 0) {
    close(fd);
  }
  const CwStatus status = cw_sheet_web(sheet, &web, out);
  free(sound);
  return status;
}

static void write_sheet(const DeskPiece *piece, size_t form, DeskResponse *response)
{
  CwSheet sheet = {0};
  const bool counted = piece->state == DESK_READY;
  const CwNotebook *notebook = piece->text ? &piece->notebook : NULL;
  char *text = NULL;
  size_t size = 0;
  if (!notebook && !counted) {
    desk_answer_problem(response, 409, "the music is not counted yet");
    return;
  }
  const CwMessages none = {0}; // what does not add up is told her who writes, not those whom a page is sent to
  CwStatus status = cw_sheet_build(notebook, counted ? &piece->line : NULL, notebook ? NULL : piece->recording,
                                   forms[form].write ? &piece->messages : &none, &sheet);
  FILE *out = status == CW_OK ? open_memstream(&text, &size) : NULL;
  if (status == CW_OK) {
    status = !out ? CW_ERR_NO_MEM : forms[form].write ? forms[form].write(&sheet, out) : write_page(piece, &sheet, out);
  }
  if (out && fclose(out) != 0) {
    status = CW_ERR_NO_MEM;
  }
  if (status == CW_OK) {
    desk_answer_text(response, forms[form].type, text, size);
    name_file(response, piece, form);
  } else {
    free(text);
    desk_answer_status(response, piece->name, status);
  }
  cw_sheet_free(&sheet);
}

void desk_get_sheet(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  const char *asked = desk_query(request, "form");
  size_t form = asked ? 0 : N_FORMS;
  while (form < N_FORMS && strcmp(forms[form].form, asked) != 0) {
    form++;
  }
  if (form == N_FORMS) {
    desk_answer_problem(response, 400, "there is no such form of a sheet");
    return;
  }
  pthread_mutex_lock(&desk->lock);
  const DeskPiece *piece = desk_piece_asked(desk, desk_query(request, "name"), response);
  if (piece) {
    write_sheet(piece, form, response);
  }
  pthread_mutex_unlock(&desk->lock);
}
