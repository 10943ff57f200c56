# SPDX-License-Identifier: GPL-3.0-or-later
# Join what 'countwright-eval beats --tsv' and perhaps 'countwright-eval ones --tsv' print to a line for bench-table.awk: the
# way, the recording, its metre and the scores that the table shows, with a tab between; '-' is a score there is not.
BEGIN {
  FS = OFS = "\t"
  n = split("f cemgil p_score cml_c cml_t aml_c aml_t tempo_1 tempo_2 downbeat_f ones_recall ones_f mean_offset_s", shown, " ")
}
NR % 2 == 1 {
  split($0, name)
  next
}
{
  for (i = 1; i <= NF; i++) value[(NR == 4 ? "ones_" : "") name[i]] = $i
}
END {
  line = way OFS name_of OFS (value["metre"] == "-" ? "mixed" : value["metre"])
  for (i = 1; i <= n; i++) line = line OFS (shown[i] in value ? value[shown[i]] : "-")
  print line
}
