# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck shell=bash
# What the scripts share; sourced, not run. Leaves the shell in the root of the source tree.
cd "$(dirname "${BASH_SOURCE[0]}")/.." || exit

processors() {
  nproc 2>/dev/null || echo 2
}

say() {
  printf '\n== %s\n' "$*" >&2
}

# configure FOLDER [CMAKE OPTION...]: as often as you like; begins afresh if the tree has moved since.
configure() {
  local folder=$1 fresh=()
  shift
  if [[ -f $folder/CMakeCache.txt ]] && ! grep -qxF "CMAKE_HOME_DIRECTORY:INTERNAL=$PWD" "$folder/CMakeCache.txt"; then
    fresh=(--fresh)
  fi
  cmake -S . -B "$folder" -G Ninja "${fresh[@]}" "$@" >&2
}
