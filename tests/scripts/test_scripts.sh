#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# The scripts' own logic: the counting of test cases, and the reading of the package list.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."

fail() {
  echo "test_scripts: $*" >&2
  exit 1
}

# count WANTED WANTED_STATUS: what count-tests.awk makes of the log on standard input
count() {
  local status=0 got
  got=$(awk -f scripts/count-tests.awk) || status=$?
  [[ $got == "$1" ]] || fail "counted '$got', wanted '$1'"
  [[ $status -eq $2 ]] || fail "'$1' ended with status $status, wanted $2"
}

count 'skipped: 2
4 passed, 0 failed' 0 <<'EOT'
1: [==========] Running 3 test(s).
1: [ RUN      ] a
1: [       OK ] a
2: [ RUN      ] a
1: [ RUN      ] b
2: [       OK ] a
1: [  SKIPPED ] b
1: [ RUN      ] c
1: [       OK ] c
1: [  SKIPPED ] 1 test(s), listed below:
1: [  SKIPPED ] b
1/4 Test #1: three ............................   Passed    0.00 sec
2/4 Test #2: one ..............................   Passed    0.00 sec
3/4 Test #3: script ...........................   Passed    0.00 sec
4/4 Test #4: not here .........................***Skipped   0.00 sec
EOT

# a failed case, a crash after one good case, a failing script, a program that was not built
count '2 passed, 4 failed' 1 <<'EOT'
1: [ RUN      ] a
1: [       OK ] a
1: [ RUN      ] b
1: [  FAILED  ] b
1: [  FAILED  ] 1 test(s), listed below:
1: [  FAILED  ] b
1/4 Test #1: half .............................***Failed    0.00 sec
2: [ RUN      ] a
2: [       OK ] a
2: [ RUN      ] b
2/4 Test #2: crash ............................Subprocess aborted***Exception:   0.00 sec
3/4 Test #3: script ...........................***Failed    0.00 sec
4/4 Test #4: not built ........................***Not Run   0.00 sec
EOT

# every case good, but the program leaks or fails at its end
count '1 passed, 1 failed' 1 <<'EOT'
1: [ RUN      ] a
1: [       OK ] a
1/1 Test #1: leak .............................***Failed    0.00 sec
EOT

count '0 passed, 1 failed' 1 </dev/null

status=0
scripts/setup no-such-group 2>/dev/null || status=$?
[[ $status -eq 2 ]] || fail "setup took an unknown group (status $status)"

bad=$(grep -vnE '^(#.*|(build|test|check|bench|music|training) [a-z0-9.+-]+( +#.*)?|)$' scripts/packages.txt) &&
  fail "packages.txt: cannot be read: $bad"
exit 0
