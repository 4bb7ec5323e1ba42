# Is an HTML page well-formed, and does it hold together? Prints what is wrong, ends with 1 when anything is.
# Every element that is opened is closed in its order (void ones are not), no id stands twice, links inside the page lead
# somewhere, headings go down one level at a time with one h1, every image tells in 40 letters or more what it shows, nothing
# comes from elsewhere, and no mark of a user's text became a tag.
BEGIN {
    RS = "<"
    n = split("meta link br hr img input col", list, " ")
    for (i = 1; i <= n; i++) void[list[i]] = 1
    n = split("html head body main title meta style h1 h2 h3 p a strong span code bdi nav ul li dl dt dd div table caption " \
              "thead tbody tr th td figure figcaption img pre section b", list, " ")
    for (i = 1; i <= n; i++) known[list[i]] = 1
}
function wrong(text) { print "page: " text; bad = 1 }
function value_of(tag, name,   at, rest) { # of an attribute in double quotes; "" where it is not there
    at = index(tag, " " name "=\"")
    if (!at) return ""
    rest = substr(tag, at + length(name) + 3)
    return substr(rest, 1, index(rest, "\"") - 1)
}
NR == 1 { if ($0 != "") wrong("letters before the doctype"); next }
NR == 2 { if (tolower(substr($0, 1, 12)) != "!doctype htm") wrong("no doctype"); next }
{
    end = index($0, ">")
    if (!end) { wrong("a tag without an end: <" substr($0, 1, 40)); next }
    tag = substr($0, 1, end - 1)
    if (substr(tag, 1, 1) == "/") {
        name = substr(tag, 2)
        if (depth == 0 || stack[depth] != name) wrong("</" name "> closes <" stack[depth] ">")
        else depth--
        next
    }
    name = tag
    sub(/[ \n].*/, "", name)
    if (!(name in known)) wrong("an element that pages do not have: <" name ">")
    if (!(name in void)) stack[++depth] = name
    rest = tag
    gsub(/"[^"]*"/, "", rest)
    if (index(rest, "\"") || index(rest, "'")) wrong("quotes that do not close: <" substr(tag, 1, 60))
    if (rest ~ / on[a-z]+=/) wrong("an attribute that acts: <" substr(tag, 1, 60))
    id = value_of(tag, "id")
    if (id != "") { if (id in seen) wrong("id twice: " id); seen[id] = 1 }
    href = value_of(tag, "href")
    if (href != "") { if (substr(href, 1, 1) != "#") wrong("a link out: " href); else links[substr(href, 2)] = 1 }
    src = value_of(tag, "src")
    if (src != "" && src !~ /^data:image\/(svg\+xml|png);base64,[A-Za-z0-9+\/=]+$/) wrong("src is no data: " substr(src, 1, 40))
    if (name == "img" && length(value_of(tag, "alt")) < 40) wrong("an image without 40 letters of alt")
    if (name == "img" && value_of(tag, "alt") !~ /[0-9]/) wrong("alt without a number")
    if (name ~ /^h[1-6]$/) {
        level = substr(name, 2) + 0
        if (level == 1) h1++
        if (level > last + 1) wrong("h" last " is followed by h" level)
        last = level
    }
    if (name == "html" && value_of(tag, "lang") == "") wrong("no lang")
    if (name == "meta" && value_of(tag, "charset") != "") charset = 1
    if (name == "meta" && value_of(tag, "name") == "viewport") viewport = 1
    if (name == "title") title = 1
}
END {
    if (depth) wrong("<" stack[depth] "> is not closed")
    if (h1 != 1) wrong(h1 + 0 " h1")
    if (!charset || !viewport || !title) wrong("charset, viewport or title is missing")
    for (id in links) if (!(id in seen)) wrong("a link to nowhere: #" id)
    exit bad
}
