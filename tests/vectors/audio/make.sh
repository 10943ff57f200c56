#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Makes the media files of this folder with FFmpeg's program (5.1 made those that are kept here) and python3.
# pulse.*: 0.3 s with one pulse of half a millisecond at 0.1 s, silence around it, and noise from 0.2 s. *.wav: the same file decoded by that program.
set -eu
cd "$(dirname "$0")"
make=$(mktemp -d)
trap 'rm -r "$make"' EXIT
python3 - "$make/pulse.wav" <<'PY'
import math, random, struct, sys, wave
random.seed(1)
with wave.open(sys.argv[1], "wb") as out:
    out.setparams((1, 2, 48000, 0, "NONE", ""))
    for i in range(int(48000 * 0.3)):
        t = i / 48000 - 0.1
        pulse = math.exp(-((t / 0.0005) ** 2)) * math.cos(2 * math.pi * 1500 * t)
        noise = random.uniform(-1, 1) if t > 0.1 else 0
        out.writeframes(struct.pack("<h", round(24000 * pulse + 8000 * noise)))
PY
run() { ffmpeg -v error -y -fflags +bitexact "$@"; }
picture="-f lavfi -i color=s=16x16:r=5:d=0.4"
run -i "$make/pulse.wav" -c:a aac -b:a 64k -flags +bitexact pulse.m4a
run -i "$make/pulse.wav" -c:a aac -b:a 64k -flags +bitexact -movflags +faststart "$make/fast.m4a"
run -i "$make/pulse.wav" -c:a aac -b:a 64k -flags +bitexact -f 3gp pulse.3gp
run -i "$make/pulse.wav" -c:a libopus -b:a 64k -flags +bitexact pulse.webm
run -i "$make/pulse.wav" -c:a aac -b:a 64k -flags +bitexact pulse.aac
# shellcheck disable=SC2086
run $picture -itsoffset 1 -i "$make/pulse.wav" -map 0:v -map 1:a -c:v mpeg4 -c:a aac -b:a 64k -flags +bitexact late.mov
# shellcheck disable=SC2086
run $picture -c:v mpeg4 -flags +bitexact picture-only.mp4
run -i pulse.m4a -c:a pcm_s16le -flags +bitexact pulse.m4a.wav
# the beginning of a file that states its length first, and of one that states it last
head -c 2000 "$make/fast.m4a" > cut.m4a
head -c 900 pulse.m4a > no-index.m4a
ls -l
