/* A strict reader of JSON that keeps nothing: what it lets pass, any reader takes. */
#include "fuzz/fuzz.h"

#include <stdlib.h>
#include <string.h>

enum { DEEPEST = 64, MOST_NAMES = 512 };

static const char *past_blanks(const char *at)
{
    return at + strspn(at, " \t\r\n");
}

/* One of \" \\ \/ \b \f \n \r \t or \uXXXX at `at`; how many bytes it takes, and what it stands for. 0: none. */
static size_t escape_at(unsigned *letter, const char *at)
{
    static const char mark[] = "\"\\/bfnrt", means[] = "\"\\/\b\f\n\r\t";
    const char *found = at[1] ? strchr(mark, at[1]) : NULL;
    char digits[5] = "", *end;
    if (found) {
        *letter = (unsigned char)means[found - mark];
        return 2;
    }
    if (at[1] != 'u' || strspn(at + 2, "0123456789abcdefABCDEF") < 4) return 0;
    memcpy(digits, at + 2, 4);
    *letter = (unsigned)strtoul(digits, &end, 16);
    return 6;
}

long fuzz_json_string(char *out, size_t room, const char *json)
{
    size_t n = 0, length;
    for (json++; *json != '"'; json += length) {
        unsigned letter = (unsigned char)*json;
        length = *json == '\\' ? escape_at(&letter, json) : letter >= 0x20;
        if (length == 0 || n + 1 >= room) return -1;
        if (length > 1 && letter >= 0x80) return -1; /* this program writes letters as they are */
        out[n++] = (char)letter;
    }
    out[n] = '\0';
    return (long)n;
}

static const char *past_string(const char *at)
{
    unsigned letter;
    if (*at != '"') return NULL;
    for (at++; *at != '"';) {
        const size_t length = *at == '\\' ? escape_at(&letter, at) : (unsigned char)*at >= 0x20;
        if (!length) return NULL;
        at += length;
    }
    return at + 1;
}

static const char *past_digits(const char *at)
{
    return at + strspn(at, "0123456789");
}

static const char *past_number(const char *at)
{
    const char *whole = at + (*at == '-');
    const char *end = past_digits(whole);
    if (end == whole || (*whole == '0' && end - whole > 1)) return NULL;
    if (*end == '.') {
        const char *part = end + 1;
        end = past_digits(part);
        if (end == part) return NULL;
    }
    if (*end != 'e' && *end != 'E') return end;
    const char *power = end + 1 + (end[1] == '-' || end[1] == '+');
    end = past_digits(power);
    return end > power ? end : NULL;
}

static const char *past_value(const char **fault, const char *at, int depth);

static const char *stop(const char **fault, const char *at)
{
    if (!*fault) *fault = at;
    return NULL;
}

/* NAME: of an object, that stands among the names before it but once. */
static const char *past_name(const char **fault, const char *at, const char *names[], size_t *n)
{
    const char *end = past_string(at);
    if (!end || *n == MOST_NAMES) return stop(fault, at);
    for (size_t i = 0; i < *n; i++)
        if (!strncmp(names[i], at, (size_t)(end - at))) return stop(fault, at);
    names[(*n)++] = at;
    end = past_blanks(end);
    return *end == ':' ? past_blanks(end + 1) : stop(fault, end);
}

static const char *past_many(const char **fault, const char *at, int depth)
{
    const bool object = *at == '{';
    const char last = object ? '}' : ']';
    const char *names[MOST_NAMES];
    size_t n = 0;
    at = past_blanks(at + 1);
    if (*at == last) return at + 1;
    for (;;) {
        if (object && !(at = past_name(fault, at, names, &n))) return NULL;
        if (!(at = past_value(fault, at, depth + 1))) return NULL;
        at = past_blanks(at);
        if (*at == last) return at + 1;
        if (*at != ',') return stop(fault, at);
        at = past_blanks(at + 1);
    }
}

static const char *past_value(const char **fault, const char *at, int depth)
{
    static const char *const word[] = {"true", "false", "null"};
    if (depth > DEEPEST) return stop(fault, at);
    if (*at == '{' || *at == '[') return past_many(fault, at, depth);
    for (size_t i = 0; i < sizeof word / sizeof *word; i++)
        if (!strncmp(at, word[i], strlen(word[i]))) return at + strlen(word[i]);
    const char *end = *at == '"' ? past_string(at) : past_number(at);
    return end ? end : stop(fault, at);
}

const char *fuzz_json_fault(const char *json, size_t size)
{
    const char *fault = NULL;
    if (strlen(json) != size || !fuzz_is_utf8(json, size)) return json;
    const char *end = past_value(&fault, past_blanks(json), 0);
    if (!end) return fault;
    end = past_blanks(end);
    return *end ? end : NULL;
}
