// SPDX-License-Identifier: GPL-3.0-or-later
#include "base/cache.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <glib.h>

#include "base/memory.h"
#include "base/output.h"

/// Only files of this ending, behind a key of this many digits, are ours.
static const char ending[] = ".measured";
enum { KEY_DIGITS = CW_CONTENT_KEY - 1, KEPT_BELOW = 9 }; // tenths of the limit that are left after removing

struct CwCache {
  char *folder;
  uint64_t limit_bytes;
};

/// At the beginning of each file; another machine's order of bytes does not match.
typedef struct {
  uint64_t magic;
  uint64_t size;
  uint64_t sum; ///< FNV-1a of the bytes
} Head;

static const uint64_t magic = 0x315F6E7563775F63U;

static uint64_t sum_of(const unsigned char *data, size_t size)
{
  uint64_t sum = 0xCBF29CE484222325U;
  for (size_t i = 0; i < size; i++) {
    sum = (sum ^ data[i]) * 0x100000001B3U;
  }
  return sum;
}

/// @return Release with free(); NULL when memory runs out.
static char *join(const char *folder, const char *name)
{
  const size_t size = strlen(folder) + strlen(name) + 2;
  char *path = cw_new(size, 1);
  if (path) {
    snprintf(path, size, "%s/%s", folder, name);
  }
  return path;
}

static char *path_of(const CwCache *cache, const char *key, const char *kind)
{
  char name[256];
  snprintf(name, sizeof name, "%s-%s%s", key, kind, ending);
  return join(cache->folder, name);
}

/// Also what a program that was stopped left unfinished.
static bool is_ours(const char *name)
{
  return strspn(name, "0123456789abcdef") == KEY_DIGITS && name[KEY_DIGITS] == '-' && strstr(name, ending);
}

/// Make a folder and those above it.
static bool make_folder(char *path)
{
  for (char *slash = strchr(path + 1, '/'); slash; slash = strchr(slash + 1, '/')) {
    *slash = '\0';
    const bool made = mkdir(path, 0700) == 0 || errno == EEXIST;
    *slash = '/';
    if (!made) {
      return false;
    }
  }
  return mkdir(path, 0700) == 0 || errno == EEXIST;
}

CwStatus cw_cache_open(const char *folder, uint64_t limit_bytes, CwCache **cache)
{
  *cache = cw_new(1, sizeof **cache);
  if (!*cache) {
    return CW_ERR_NO_MEM;
  }
  (*cache)->limit_bytes = limit_bytes;
  (*cache)->folder = cw_copy_text(folder, strlen(folder));
  CwStatus status = (*cache)->folder ? CW_OK : CW_ERR_NO_MEM;
  if (!status && (!make_folder((*cache)->folder) || access(folder, W_OK | X_OK) != 0)) {
    status = CW_ERR_NO_ACCESS;
  }
  if (status) {
    cw_cache_free(*cache);
    *cache = NULL;
  }
  return status;
}

void cw_cache_free(CwCache *cache)
{
  if (cache) {
    free(cache->folder);
    free(cache);
  }
}

bool cw_content_key(const char *path, char key[CW_CONTENT_KEY])
{
  FILE *in = fopen(path, "rb");
  GChecksum *checksum = g_checksum_new(G_CHECKSUM_SHA256);
  unsigned char block[1 << 16];
  bool good = in && checksum;
  size_t n = 0;
  while (good && (n = fread(block, 1, sizeof block, in)) > 0) {
    g_checksum_update(checksum, block, (gssize)n);
  }
  good = good && !ferror(in);
  if (good) {
    snprintf(key, CW_CONTENT_KEY, "%s", g_checksum_get_string(checksum));
  }
  if (checksum) {
    g_checksum_free(checksum);
  }
  if (in) {
    fclose(in);
  }
  return good;
}

static bool read_block(FILE *in, void **data, size_t *size)
{
  Head head;
  struct stat info;
  if (fread(&head, sizeof head, 1, in) != 1 || head.magic != magic || fstat(fileno(in), &info) != 0 ||
      (uint64_t)info.st_size != head.size + sizeof head) {
    return false;
  }
  *size = (size_t)head.size;
  *data = cw_new(*size + 1, 1);
  if (*data && fread(*data, 1, *size, in) == *size && sum_of(*data, *size) == head.sum) {
    return true;
  }
  free(*data);
  *data = NULL;
  return false;
}

bool cw_cache_load(const CwCache *cache, const char *key, const char *kind, void **data, size_t *size)
{
  *data = NULL;
  char *path = path_of(cache, key, kind);
  FILE *in = path ? fopen(path, "rb") : NULL;
  const bool found = in && read_block(in, data, size);
  if (in) {
    fclose(in);
  }
  if (found) {
    utimensat(AT_FDCWD, path, NULL, 0); // used now: others are removed before it
  }
  free(path);
  return found;
}

/// A file of the cache.
typedef struct {
  char *name;
  uint64_t bytes;
  struct timespec used;
} Kept;

typedef struct {
  Kept *kept;
  size_t n;
  uint64_t bytes;
} Listing;

static void free_listing(Listing *listing)
{
  for (size_t i = 0; i < listing->n; i++) {
    free(listing->kept[i].name);
  }
  free(listing->kept);
}

static bool add_kept(DIR *folder, const char *name, Listing *listing, size_t *room)
{
  struct stat info;
  if (!is_ours(name) || fstatat(dirfd(folder), name, &info, AT_SYMLINK_NOFOLLOW) != 0 || !S_ISREG(info.st_mode)) {
    return true;
  }
  char *copy = cw_copy_text(name, strlen(name));
  if (!copy || !cw_grow(&listing->kept, room, listing->n, sizeof *listing->kept)) {
    free(copy);
    return false;
  }
  listing->kept[listing->n++] = (Kept){copy, (uint64_t)info.st_size, info.st_mtim};
  listing->bytes += (uint64_t)info.st_size;
  return true;
}

static CwStatus list_folder(const char *path, Listing *listing)
{
  *listing = (Listing){0};
  DIR *folder = opendir(path);
  if (!folder) {
    return errno == ENOENT ? CW_OK : CW_ERR_NO_ACCESS;
  }
  size_t room = 0;
  bool good = true;
  for (const struct dirent *entry = readdir(folder); entry && good; entry = readdir(folder)) {
    good = add_kept(folder, entry->d_name, listing, &room);
  }
  closedir(folder);
  if (!good) {
    free_listing(listing);
    *listing = (Listing){0};
  }
  return good ? CW_OK : CW_ERR_NO_MEM;
}

static bool remove_kept(const char *folder, const Kept *kept)
{
  char *path = join(folder, kept->name);
  const bool removed = path && unlink(path) == 0;
  free(path);
  return removed;
}

static int by_use(const void *left, const void *right)
{
  const Kept *l = left;
  const Kept *r = right;
  if (l->used.tv_sec != r->used.tv_sec) {
    return l->used.tv_sec < r->used.tv_sec ? -1 : 1;
  }
  if (l->used.tv_nsec != r->used.tv_nsec) {
    return l->used.tv_nsec < r->used.tv_nsec ? -1 : 1;
  }
  return strcmp(l->name, r->name);
}

/// Keep to the limit.
static void make_room(const CwCache *cache)
{
  Listing listing;
  if (list_folder(cache->folder, &listing)) {
    return;
  }
  if (listing.bytes > cache->limit_bytes) {
    qsort(listing.kept, listing.n, sizeof *listing.kept, by_use);
    const uint64_t wanted = cache->limit_bytes / 10 * KEPT_BELOW;
    for (size_t i = 0; i < listing.n && listing.bytes > wanted; i++) {
      listing.bytes -= remove_kept(cache->folder, &listing.kept[i]) ? listing.kept[i].bytes : 0;
    }
  }
  free_listing(&listing);
}

void cw_cache_store(const CwCache *cache, const char *key, const char *kind, const void *data, size_t size)
{
  char *path = path_of(cache, key, kind);
  CwOutput output = {0};
  if (path && cw_output_begin(path, true, &output) == CW_OK) {
    const Head head = {magic, size, sum_of(data, size)};
    const bool written =
        fwrite(&head, sizeof head, 1, output.stream) == 1 && fwrite(data, 1, size, output.stream) == size;
    if (!written) {
      cw_output_cancel(&output);
    } else if (cw_output_end(&output) == CW_OK) {
      make_room(cache);
    }
  }
  free(path);
}

CwStatus cw_cache_clear(const char *folder, size_t *n_files, uint64_t *bytes)
{
  Listing listing;
  *n_files = 0;
  *bytes = 0;
  CwStatus status = list_folder(folder, &listing);
  for (size_t i = 0; i < listing.n && !status; i++) {
    if (remove_kept(folder, &listing.kept[i])) {
      ++*n_files;
      *bytes += listing.kept[i].bytes;
    } else {
      status = CW_ERR_NO_ACCESS;
    }
  }
  free_listing(&listing);
  return status;
}
