// SPDX-License-Identifier: GPL-3.0-or-later
#include <string.h>

#include "desk/guard.h"
#include "unit/cw_test.h"

static DeskRequest own_request(const DeskGuard *guard)
{
  return (DeskRequest){.method = "GET", .path = "/shelf", .host = guard->host, .body_fd = -1};
}

static unsigned place_of(DeskGuard *guard, const DeskRequest *request)
{
  DeskResponse response = {0};
  const unsigned status = desk_guard_place(guard, request, &response) ? 200 : response.status;
  desk_response_free(&response);
  return status;
}

static void a_flood_is_slowed_and_forgotten_after_a_while(void **state)
{
  (void)state;
  DeskGuard guard;
  assert_int_equal(desk_guard_init(&guard, 40000), CW_OK);
  const DeskRequest request = own_request(&guard);
  unsigned n = 0;
  while (n < 100000 && place_of(&guard, &request) == 200) {
    n++;
  }
  assert_in_range(n, 500, 99999);
  guard.filled_s -= 1.0; // a second later
  assert_int_equal(place_of(&guard, &request), 200);
}

static void two_desks_have_other_secrets(void **state)
{
  (void)state;
  DeskGuard a;
  DeskGuard b;
  assert_int_equal(desk_guard_init(&a, 40000), CW_OK);
  assert_int_equal(desk_guard_init(&b, 40000), CW_OK);
  assert_int_equal(strlen(a.secret), 64);
  assert_string_not_equal(a.secret, b.secret);
  assert_string_not_equal(a.pass, b.pass);
  assert_string_not_equal(a.secret, a.pass);
}

static void writing_needs_to_say_where_it_comes_from(void **state)
{
  (void)state;
  DeskGuard guard;
  assert_int_equal(desk_guard_init(&guard, 40000), CW_OK);
  DeskRequest request = own_request(&guard);
  request.method = "POST";
  assert_int_equal(place_of(&guard, &request), 403);
  request.origin = "http://127.0.0.1:40001";
  assert_int_equal(place_of(&guard, &request), 403);
  request.origin = "http://127.0.0.1:40000";
  assert_int_equal(place_of(&guard, &request), 200);
  request.fetch_site = "cross-site";
  assert_int_equal(place_of(&guard, &request), 403);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_flood_is_slowed_and_forgotten_after_a_while),
      cmocka_unit_test(two_desks_have_other_secrets),
      cmocka_unit_test(writing_needs_to_say_where_it_comes_from),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
