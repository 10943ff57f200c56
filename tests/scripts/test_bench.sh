#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# scripts/bench with a stand-in for the program, which finds what it is told. Usage: test_bench.sh COUNTWRIGHT_EVAL
set -euo pipefail
eval=$(realpath "$1")
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
work=$(mktemp -d)
trap 'rm -r "$work"' EXIT
export BUILD=$work/build JOBS=2
mkdir "$BUILD" "$work/music"
ln -s "$eval" "$BUILD/countwright-eval"

fail() {
  echo "test_bench: $*" >&2
  exit 1
}

# wants PATTERN TEXT: a line of the text is that, runs of spaces counting as one
wants() {
  tr -s ' ' <<<"$2" | grep -qE "^$1\$" || fail "no line '$1' in:
$2"
}

# lacks PATTERN TEXT
lacks() {
  tr -s ' ' <<<"$2" | grep -qE "$1" && fail "'$1' in:
$2"
  return 0
}

# What is found in a recording is its own text; with notes its ones are a second late, without the cue 'bass' beats are.
cat >"$BUILD/countwright" <<'EOT'
#!/usr/bin/env bash
late=0
case "$*" in
  *--help) [[ -z ${WITH_TAPS-} ]] || echo --taps; exit ;;
  *"--leave-out list") [[ -n ${WITH_CUES-} ]] || exit 2; printf 'flux\nbass\n'; exit ;;
  *silence*) echo "countwright: no pulse was found" >&2; exit 1 ;;
  *notes.txt*counts | *bass*) late=1 ;;
esac
[[ ${*: -1} == beats ]] && fields=1,2 || fields=1,3-5
for word in "$@"; do
  [[ $word != *.wav ]] || cut -f "$fields" "$word" | awk -v late=$late 'BEGIN { OFS = "\t" } { $1 = sprintf("%.2f", $1 + late); print }'
done
EOT
chmod +x "$BUILD/countwright"

# beats METRE: time, label, and phrase, count, confidence, of sixteen counts
beats() {
  awk -v metre="$1" 'BEGIN {
    for (i = 0; i < 16; i++)
      printf "%.2f\t%s\t%d\t%d\t%s\n", 6 + i / 4, i % metre ? "b" : "db", i < 8 ? 1 : 2, i % 8 + 1, i < 8 ? 0.95 : 0.25
  }'
}

for metre in 2 3 4; do
  beats $metre >"$work/music/in$metre.wav"
  cut -f 1,2 "$work/music/in$metre.wav" >"$work/music/in$metre.beats"
  awk -F '\t' '$4 == 1 { print $1 "\t" $3 "\t8" }' "$work/music/in$metre.wav" >"$work/music/in$metre.ones"
done
touch "$work/music/in4.notes.txt" "$work/music/in4.taps" "$work/music/other.txt"
cp "$work/music/in4.beats" "$work/music/without-recording.beats"

table=$(scripts/bench accuracy "$work/music" music notes taps 2>"$work/said")
wants 'in3 music 1.000 1.000 1.000 1.000 1.000 1.000 1.000 1.000 1.000 1.000 1.000 1.000 0' "$table"
wants 'in4 notes 1.000 .* 1.000 0.000 0.000 0' "$table"
wants '2 beats in a bar, 1 music .*' "$table"
wants 'all, 3 music .*' "$table"
wants 'all, 1 notes .*' "$table"
lacks 'in3 notes|without-recording|taps' "$table"
wants 'bench: taps: not available in this build' "$(cat "$work/said")"
table=$(WITH_TAPS=1 scripts/bench accuracy "$work/music" taps notes+taps)
wants 'in4 taps .*' "$table"
wants 'in4 notes\+taps .*' "$table"

# what is not found scores 0 and is told; a mean is over all
beats 4 >"$work/music/silence.wav"
cut -f 1,2 "$work/music/silence.wav" >"$work/music/silence.beats"
table=$(OUT=$work/kept scripts/bench accuracy "$work/music" music 2>"$work/said")
wants 'silence music 0.000 .* 0.000 - - -' "$table"
wants '4 beats in a bar, 2 music 0.500 .*' "$table"
wants 'music: countwright: no pulse was found' "$(cat "$work/said")"
cmp "$work/kept/music/in3.beats" "$work/music/in3.beats" || fail "the lists that were found are not kept"
rm "$work/music"/silence.*

# a one of in3's second phrase is no downbeat; with notes both are a second late
text=$(scripts/bench reliability "$work/music" music notes)
wants '0.9 - 1 3 0.950 1.000' "$text"
wants '0.2 - 0.3 3 0.250 0.667' "$text"
wants '0.9 - 1 1 0.950 0.000' "$text"

scripts/bench ablation "$work/music" >"$work/said" 2>&1 && fail "cues were left out of a build that cannot"
wants 'bench: leaving cues out is not available in this build' "$(cat "$work/said")"
table=$(WITH_CUES=1 scripts/bench ablation "$work/music")
wants 'all, 3 music 1.000 .*' "$table"
wants 'all, 3 without flux 1.000 .*' "$table"
wants 'all, 3 without bass 0.750 .*' "$table" # four beats of sixteen are past the end
lacks '^in3' "$table"
table=$(WITH_CUES=1 scripts/bench ablation "$work/music" bass)
lacks 'flux' "$table"

# refused WANTED_STATUS WORD...
refused() {
  local status=0
  scripts/bench "${@:2}" >/dev/null 2>"$work/said" || status=$?
  [[ $status -eq $1 && -s $work/said ]] || fail "'$*' ended with status $status"
}
refused 2
refused 2 accuracy
refused 2 accuracy "$work/nowhere"
refused 2 accuracy "$work/music" guesses
refused 2 reliability "$work/music" aubio
refused 2 demo now
refused 1 accuracy "$work/build" music
scripts/bench --help | grep -q '^Measure countwright' || fail "no help"
