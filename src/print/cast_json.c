// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/cast_json.h"

static json_t *stay_value(const CwStay *stay, bool *good)
{
  json_t *object = json_object();
  cw_json_flag(object, "on", stay->on, good);
  cw_json_whole(object, "phrase", stay->number, good);
  cw_json_number(object, "count", stay->count, CW_COUNT_DIGITS, good);
  cw_json_whole(object, "until_phrase", stay->until_number, good);
  cw_json_number(object, "until_count", stay->until_count, CW_COUNT_DIGITS, good);
  cw_json_number(object, "counts", stay->counts, CW_COUNT_DIGITS, good);
  cw_json_number(object, "start_s", stay->start_s, CW_TIME_DIGITS, good);
  cw_json_number(object, "end_s", stay->end_s, CW_TIME_DIGITS, good);
  cw_json_flag(object, "wait", stay->again, good);
  cw_json_number(object, "warm_from_s", stay->warm_s, CW_TIME_DIGITS, good);
  cw_json_flag(object, "stay_warm", stay->stay_warm, good);
  return object;
}

json_t *cw_cast_value(const CwCast *cast, bool *good)
{
  json_t *list = json_array();
  for (size_t i = 0; i < cast->n_roles; i++) {
    json_t *object = json_object();
    json_t *stays = json_array();
    cw_json_text(object, "role", cast->role[i].role, good);
    for (size_t k = 0; k < cast->role[i].n_stays; k++) {
      *good = json_array_append_new(stays, stay_value(&cast->role[i].stay[k], good)) == 0 && *good;
    }
    cw_json_put(object, "stays", stays, good);
    *good = json_array_append_new(list, object) == 0 && *good;
  }
  return list;
}
