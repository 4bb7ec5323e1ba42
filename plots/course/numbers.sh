#!/bin/sh
# The numbers that docs/course_figures.md tells of each figure, as its lines, from what the commands have written.
#
#   usage: sh plots/course/numbers.sh DATA        DATA is the folder data that figures.sh leaves, such as out/course/data
set -u
LC_ALL=C
export LC_ALL
data=${1:?usage: numbers.sh DATA}

# cell FILE KEY VALUE COLUMN: what stands in COLUMN where KEY is nearest to VALUE (words: where it is VALUE), first such row
cell() {
    tr -d '\r' <"$1" | awk -F, -v key="$2" -v value="$3" -v column="$4" '
        NR == 1 { for (i = 1; i <= NF; i++) { if ($i == key) k = i; if ($i == column) c = i }; if (!k || !c) exit 1; next }
        value !~ /^[-+.0-9]/ { if ($k == value || $k == "\"" value "\"") { print $c; exit }; next }
        { far = $k - value; if (far < 0) far = -far; if (NR == 2 || far < least) { least = far; found = $c } }
        END { if (value ~ /^[-+.0-9]/) print found }'
}
number() { # number FILE KEY: the first number of this key in a summary.json
    awk -v key="\"$2\":" 'index($0, key) && match($0, /"value": [-+.0-9e]+/) { print substr($0, RSTART + 9, RLENGTH - 9); exit }' "$1"
}
say() { # say FORMAT NUMBER...: numbers may carry a factor, as in 0.01*55497
    format=$1
    shift
    printf '%s\n' "$@" | awk -v format="$format" '{ n = split($1, part, /\*/); x = part[n] * (n > 1 ? part[1] : 1); v[NR] = x
            if (part[n] == "" || part[1] == "") { bad = 1; exit } }
        END { if (bad) exit 1; printf format "\n", v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8], v[9], v[10], v[11], v[12] }' || {
        echo "numbers: a number is missing for: $format" >&2
        exit 5
    }
}

# ---- absorption ----
at() { echo "0.01*$(cell "$data/absorption/spectrum.csv" wavelength_m "$1e-9" "$2_1_m")"; }
say '- A grain absorbs %.0f /cm at 532 nm (%.0f to %.0f: ten-fold) and %.1f /cm at 1064 nm (%.1f to %.0f).' \
    "$(at 532 neighbour_grain)" "$(at 532 neighbour_grain_low)" "$(at 532 neighbour_grain_high)" \
    "$(at 1064 neighbour_grain)" "$(at 1064 neighbour_grain_low)" "$(at 1064 neighbour_grain_high)"
say '- Blood with oxygen absorbs %.0f /cm at 532 nm, %.0f at 585 nm, %.1f at 694 nm and %.1f at 755 nm; without it %.0f, %.0f, %.1f and %.1f /cm.' \
    "$(at 532 blood_oxygenated)" "$(at 585 blood_oxygenated)" "$(at 694 blood_oxygenated)" "$(at 755 blood_oxygenated)" \
    "$(at 532 blood_deoxygenated)" "$(at 585 blood_deoxygenated)" "$(at 694 blood_deoxygenated)" "$(at 755 blood_deoxygenated)"
say '- Water absorbs %.5f /cm at 532 nm and %.2f /cm at 1064 nm.' "$(at 532 water)" "$(at 1064 water)"

# ---- temperature ----
of() { cell "$data/temperature/compare/compare.csv" choice "$1" "$2"; }
for i in 1 2 3 4; do
    say "- $(of $i name | tr -d '"'): the grain rises by %.1f K (%.1f to %.1f), its layer by %.1f K (%.1f to %.1f), the dermis at 0.3 mm by %.2f K (%.2f to %.2f)." \
        "$(of $i lesion_grain_peak_K)" "$(of $i lesion_grain_peak_K_low)" "$(of $i lesion_grain_peak_K_high)" \
        "$(of $i lesion_layer_peak_K)" "$(of $i lesion_layer_peak_K_low)" "$(of $i lesion_layer_peak_K_high)" \
        "$(of $i lesion_rise_0.3mm_K)" "$(of $i lesion_rise_0.3mm_K_low)" "$(of $i lesion_rise_0.3mm_K_high)"
done
say '- In 5 ns a grain of the skin around rises by %.1f K (%.1f to %.1f): more than in the lesion, whose many grains leave each other less light.' \
    "$(of 1 neighbour_grain_peak_K)" "$(of 1 neighbour_grain_peak_K_low)" "$(of 1 neighbour_grain_peak_K_high)"

# ---- pulse_width ----
of() { cell "$data/pulse_width/sweep/sweep.csv" light.pulse_s "$1" "$2"; }
asked=$data/pulse_width/run/summary.json
say '- The lead of the mean of this grain over that of its cell falls to 1/e in %.1f ns.' "1e9*$(number "$asked" mean_to_1_over_e)"
say '- In 0.1 ns it rises by %.1f K (%.1f to %.1f), of %.1f K if it kept all its heat.' "$(of 1e-10 lesion_grain_peak_K)" \
    "$(of 1e-10 lesion_grain_peak_K_low)" "$(of 1e-10 lesion_grain_peak_K_high)" "$(number "$asked" adiabatic_rise)"
say '- In 56 ns, about that time, by %.1f K (%.1f to %.1f); in 1 µs by %.1f K, its layer by %.1f K; in 1 ms both by %.1f K.' \
    "$(of 5.6234132519e-08 lesion_grain_peak_K)" "$(of 5.6234132519e-08 lesion_grain_peak_K_low)" \
    "$(of 5.6234132519e-08 lesion_grain_peak_K_high)" "$(of 1e-06 lesion_grain_peak_K)" "$(of 1e-06 lesion_layer_peak_K)" \
    "$(of 0.001 lesion_grain_peak_K)"

# Pulse width at which a grain leads its layer by this share of what it would if it kept all its heat, by straight lines
# over the logarithm between two widths of the sweep.
led() { # led SHARE
    tr -d '\r' <"$data/pulse_width/sweep/sweep.csv" | awk -F, -v share="$1" -v kept="$(number "$asked" adiabatic_rise)" '
        NR == 1 { for (i = 1; i <= NF; i++) { if ($i == "light.pulse_s") p = i; if ($i == "lesion_grain_peak_K") g = i; if ($i == "lesion_layer_peak_K") l = i }; next }
        { lead = ($g - $l) / (kept - $l); x = log($p)
          if (NR > 2 && lead < share && before >= share) { print exp(at + (x - at) * (before - share) / (before - lead)); exit }
          before = lead; at = x }'
}
say '- Of the lead over its layer that it would have if it kept all its heat, nine tenths are there in %.1f ns, a tenth in %.2g µs, a hundredth in %.2g µs.' \
    "1e9*$(led 0.9)" "1e6*$(led 0.1)" "1e6*$(led 0.01)"

# ---- spots: every width has its own rows, the first and the last of them at the surface and 3 mm deep ----
of() { # of SPOT_MM DEPTH_MM COLUMN
    tr -d '\r' <"$data/spots/run/spots.csv" | awk -F, -v spot="$1" -v depth="$2" -v column="$3" '
        NR == 1 { for (i = 1; i <= NF; i++) if ($i == column) c = i; next }
        $1 * 1e3 < spot * 1.001 && $1 * 1e3 > spot * 0.999 { far = $2 * 1e3 - depth; if (far < 0) far = -far
            if (!n++ || far < least) { least = far; found = $c } } END { print found }'
}
say '- Same fluence: at the surface %.2f times the incident light under 2 mm and %.2f times under 10 mm; 3 mm deep %.3f and %.2f times.' \
    "$(of 2 0 same_fluence)" "$(of 10 0 same_fluence)" "$(of 2 3 same_fluence)" "$(of 10 3 same_fluence)"
say '- Same energy, in fluences of the 5 mm spot: at the surface %.1f under 2 mm and %.2f under 10 mm; 3 mm deep %.2f and %.2f.' \
    "$(of 2 0 same_energy)" "$(of 10 0 same_energy)" "$(of 2 3 same_energy)" "$(of 10 3 same_energy)"

# ---- grain ----
of() { for shade in run paler darker; do cell "$data/grain/$shade/grain.csv" site lesion "after_$1_s_rise_K"; done; }
say '- Its centre is %.0f K (%.0f to %.0f) warmer 1 ns after the pulse, still %.0f K (%.0f to %.0f) after 10 ns, %.0f K (%.0f to %.0f) after 100 ns, %.1f K (%.1f to %.1f) after 1 µs.' \
    $(of 1e-09) $(of 1e-08) $(of 1e-07) $(of 1e-06)
say '- The lead of its mean over that of its cell, with other grains far off, falls to 1/e in %.0f ns; in the basal row, with others near, in %.0f ns.' \
    "1e9*$(number "$data/grain/run/summary.json" mean_to_1_over_e)" \
    "1e9*$(number "$data/pulse_width/run/summary.json" mean_to_1_over_e)"

# ---- thresholds ----
of() { echo "1e-4*$(cell "$data/thresholds/compare/compare.csv" choice "$1" "$2")"; }
for i in 1 2 3 4; do
    say "- $(cell "$data/thresholds/compare/compare.csv" choice $i name | tr -d '"'): lesion %.2f J/cm2 (%.2f to %.2f), skin around %.2f J/cm2 (%.2f to %.2f)." \
        "$(of $i lesion_threshold_sign_J_m2)" "$(of $i lesion_threshold_sign_J_m2_low)" "$(of $i lesion_threshold_sign_J_m2_high)" \
        "$(of $i neighbour_threshold_sign_J_m2)" "$(of $i neighbour_threshold_sign_J_m2_low)" "$(of $i neighbour_threshold_sign_J_m2_high)"
done
published() { echo "1e-4*$(cell "$data/thresholds/reported/reported.csv" condition "$1" fluence_low_J_m2)"; }
say '- Published, 694 nm, people: lentigo %.1f J/cm2, sun-protected skin %.1f J/cm2 [hruza-1991].' \
    "$(published 'lentigo: mean threshold of whitening')" "$(published 'sun-protected skin: the same')"

# ---- cover ----
of() { echo "100*$(cell "$data/cover/$1/histogram.csv" dose_from_1 "$2" share_one_pass)"; }
for lattice in hexagonal square; do
    say "- $lattice, touching: missed %.2f %%, once %.1f %%; 10 %% overlap: missed %.2f %%, once %.1f %%, twice %.1f %%; 30 %%: once %.1f %%, twice %.1f %%, three times and more %.1f %%." \
        "$(of ${lattice}0 0)" "$(of ${lattice}0 1)" "$(of ${lattice}10 0)" "$(of ${lattice}10 1)" "$(of ${lattice}10 2)" \
        "$(of ${lattice}30 1)" "$(of ${lattice}30 2)" \
        "$(tr -d '\r' <"$data/cover/${lattice}30/histogram.csv" | awk -F, 'NR > 1 && $1 >= 3 { s += $3 } END { print 100 * s }')"
done

# ---- density ----
of() { cell "$data/density/density.csv" edition "$1" "$2"; }
say '- In this example the limit of EU 2006 is %g J/m2, a density of %.2f; that of ICNIRP 2013 by the stricter reading %g J/m2, %.2f; read as the standard of 2014 is recalled %g J/m2, %.2f.' \
    "$(of 'EU 2006' limit_J_m2)" "$(of 'EU 2006' density_1)" "$(of 'ICNIRP 2013' limit_J_m2)" "$(of 'ICNIRP 2013' density_1)" \
    "$(of 'ICNIRP 2013' alone_J_m2)" "$(of 'ICNIRP 2013' alone_density_1)"
