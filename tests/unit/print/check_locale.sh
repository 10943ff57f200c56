#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# In a program that has set a locale with decimal commas, every file is the same byte for byte.
# Usage: check_locale.sh PROGRAM SAMPLES. Exit 77 (skipped) where such a locale cannot be made.
set -eu
program=$1
samples=$2
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
command -v localedef >/dev/null || exit 77
localedef -i de_DE -f UTF-8 "$folder/de_DE.UTF-8" 2>/dev/null || exit 77
mkdir "$folder/samples"
LOCPATH=$folder "$program" "$folder/samples" de_DE.UTF-8
diff -r "$samples" "$folder/samples"
