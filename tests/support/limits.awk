# The rows of model/side/exposure_rows.c as rows of the tables of docs/theory/room.md, which must hold each of them.
# usage: awk -f tests/support/limits.awk model/side/exposure_rows.c
/^\{"/ {
    gsub(/^\{|\},.*$/, "")
    split($0, cell, / *, */)
    gsub(/"/, "", cell[1])
    edition = cell[2] == "-1" ? "" : cell[2] ~ /EU/ ? "EU 2006, " : "ICNIRP 2013, "
    for (i = 4; i <= 5; i++) sub(/e-9$/, "", cell[i])
    for (i = 6; i <= 10; i++) sub(/\.0$/, "", cell[i])
    factors = cell[11] == "0" ? "" : cell[11]
    gsub(/ \| /, " ", factors)
    gsub(/[ACE]/, "C_&", factors)
    power = cell[8] == "true" ? " t" : cell[10] == "0" ? "" : " t^" cell[10]
    printf "| %s%s | %s to %s | %s to %s | %s%s%s |\n", edition, cell[1], cell[4], cell[5], cell[6], cell[7], cell[9], power,
        factors == "" ? "" : " " factors
}
