# Works out the contrast of letters and ground in every rule of a page's style that colours letters, as (L1 + 0.05) /
# (L2 + 0.05) of their relative luminances (sRGB). 4.5 is the least that is asked of small text. A rule that colours one
# and not the other is a fault: what it stands on could not be known. Ends with 1 when anything is wrong.
BEGIN { RS = "}"; for (i = 0; i < 16; i++) digit[substr("0123456789abcdef", i + 1, 1)] = i }
function channel(two,   v) {
    v = (16 * digit[substr(two, 1, 1)] + digit[substr(two, 2, 1)]) / 255
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ^ 2.4
}
function luminance(hex) { return 0.2126 * channel(substr(hex, 1, 2)) + 0.7152 * channel(substr(hex, 3, 2)) + 0.0722 * channel(substr(hex, 5, 2)) }
function colour(rule, name,   at) {
    if (!match(rule, "(^|[ {;])" name ": *#[0-9a-f]+")) return ""
    at = substr(rule, RSTART, RLENGTH)
    sub(/.*#/, "", at)
    return at
}
{
    front = colour($0, "color")
    back = colour($0, "background")
    if (front == "" && back == "") next
    if (front == "" && $0 ~ /figure [.]box/) next # pictures bring their own letters
    n++
    if (length(front) != 6 || length(back) != 6) { print "contrast: one colour alone in" $0; bad = 1; next }
    a = luminance(front); b = luminance(back)
    ratio = a > b ? (a + 0.05) / (b + 0.05) : (b + 0.05) / (a + 0.05)
    if (ratio < least) least = ratio
    if (n == 1) least = ratio
    if (ratio < 4.5) { printf "contrast: %.2f of #%s on #%s\n", ratio, front, back; bad = 1 }
}
END { if (n < 5) { print "contrast: only " n + 0 " rules were found"; bad = 1 } printf "least contrast %.2f of %d rules\n", least, n; exit bad }
