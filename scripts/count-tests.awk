# SPDX-License-Identifier: GPL-3.0-or-later
# Count test cases in the output of `ctest -V`. A cmocka program counts once for each of its cases; any other test once.
# A case that began and did not end well (a crash, say) has failed, and so has a program that failed outside its cases.
match($0, /^[0-9]+: /) {
  test = substr($0, 1, RLENGTH - 2)
  if (index($0, "[ RUN      ]")) began[test]++
  else if (index($0, "[       OK ]")) good[test]++
  else if (/\[  SKIPPED \] [^0-9]/ && !told[test, $0]++) omitted[test]++ # the summary names it once more
}
# " 3/12 Test  #3: test_name ......   Passed    0.01 sec"
/^ *[0-9]+\/[0-9]+ Test +#[0-9]+: / {
  match($0, /#[0-9]+/)
  test = substr($0, RSTART + 1, RLENGTH - 1)
  well = / Passed +[0-9.]+ sec/
  left_out = /\*\*\*(Skipped|Not Run \(Disabled\))/
  if (began[test]) {
    bad = began[test] - good[test] - omitted[test]
    if (!well && !left_out && bad == 0) bad = 1
    passed += good[test]
    skipped += omitted[test]
    failed += bad
  } else if (well) {
    passed++
  } else if (left_out) {
    skipped++
  } else {
    failed++
  }
  seen++
}
END {
  if (!seen) failed++ # no tests at all is no success
  if (skipped) printf "skipped: %d\n", skipped
  printf "%d passed, %d failed\n", passed, failed
  exit failed > 0
}
