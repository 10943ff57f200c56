#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Makes hmm.json: beats and their probabilities by GHMM, the General Hidden Markov Model library (Debian's libghmm-dev
# 0.9~rc3 made what is kept here). The model is written out as a plain hidden Markov model with a state for every frame
# between beats; nothing of countwright is used.
set -eu
cd "$(dirname "$0")"
make=$(mktemp -d)
trap 'rm -r "$make"' EXIT
cc -std=c11 -O2 -o "$make/make" make.c -lghmm -lm
"$make/make" >hmm.json
