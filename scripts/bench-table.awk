# SPDX-License-Identifier: GPL-3.0-or-later
# The table of 'scripts/bench accuracy' from the lines of bench-row.awk: with rows=1 a line for each recording and way, then
# the means over recordings by metre and over all. ways: the ways in their order, a line feed between.
function cells(way, name,    line, i) {
  line = sprintf("%-24s %-*s", name, width, way)
  for (i = 1; i <= columns; i++) line = line sprintf(" %6s", cell[i])
  return line
}
function shown(column, value) {
  if (value == "-") return "-"
  return column == columns ? sprintf("%.0f", 1000 * value) : sprintf("%.3f", value)
}
function means(group, label,    w, i, n) {
  for (w = 1; w <= n_ways; w++) {
    n = count[group, way_at[w]]
    if (!n) continue
    for (i = 1; i <= columns; i++)
      cell[i] = known[group, way_at[w], i] ? shown(i, sum[group, way_at[w], i] / known[group, way_at[w], i]) : "-"
    print cells(way_at[w], label ", " n)
  }
}
function add(group, way,    i) {
  count[group, way]++
  for (i = 1; i <= columns; i++)
    if ($(i + 3) != "-") {
      known[group, way, i]++
      sum[group, way, i] += $(i + 3)
    }
}
BEGIN {
  FS = "\t"
  columns = split("F Cemgil P CMLc CMLt AMLc AMLt tempo1 tempo2 dbF ones onesF late", cell, " ")
  n_ways = split(ways, way_at, "\n")
  for (w = 1; w <= n_ways; w++) if (length(way_at[w]) > width) width = length(way_at[w])
  print cells("", "")
}
{
  add("all", $1)
  add($3, $1)
  metre[$3]
  if (!($2 in seen)) names[++n_names] = $2
  seen[$2]
  row[$2, $1] = $0
}
END {
  for (k = 1; rows && k <= n_names; k++)
    for (w = 1; w <= n_ways; w++)
      if ((names[k], way_at[w]) in row) {
        split(row[names[k], way_at[w]], field)
        for (i = 1; i <= columns; i++) cell[i] = shown(i, field[i + 3])
        print cells(way_at[w], names[k])
      }
  if (rows) print ""
  for (m = 1; m <= 32; m++) if (m in metre) means(m, m " beats in a bar")
  if ("mixed" in metre) means("mixed", "mixed")
  means("all", "all")
}
