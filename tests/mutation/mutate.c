/* Makes one mutant of the model: a small slip, drawn evenly over the lines of code that can hold one.
 *
 *     mutate SEED NUMBER TRY OUT FILE...     writes the slipped file to OUT and prints, parted by tabs,
 *                                            file, line, function, its first and last line, what became what
 *     mutate count FILE...                   prints how many lines and how many slips there are
 *
 * It reads C by its tokens: comments, texts, directives other than #define, asserts, types and sizes of arrays are left
 * alone. What it makes need not compile; who calls it draws again then, with the next TRY.                          */
#include "source.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <ctype.h>

/* ---- slips ---- */

static struct slip *add(struct source *source, size_t i, const char *with, const char *format, const char *was)
{
    const struct token *token = &source->token[i];
    source->slip = grown(source->slip, source->n_slip, sizeof *source->slip);
    struct slip *slip = &source->slip[source->n_slip++];
    memset(slip, 0, sizeof *slip);
    slip->line = token->line;
    slip->at[0] = token->at;
    slip->length[0] = token->length;
    slip->function = function_at(source, i);
    snprintf(slip->with[0], sizeof slip->with[0], "%s", with);
    snprintf(slip->what, sizeof slip->what, format, was, with);
    return slip;
}

static void swap(struct source *source, size_t i, const char *with)
{
    char was[64];
    snprintf(was, sizeof was, "%.*s", (int)source->token[i].length, source->text + source->token[i].at);
    add(source, i, with, "'%s' becomes '%s'", was);
}

/* What stands from token i to token j, on one line and cut. */
static void quote(const struct source *source, size_t i, size_t j, char out[72])
{
    size_t n = 0;
    const size_t end = source->token[j].at + source->token[j].length;
    for (size_t k = source->token[i].at; k < end && n < 70; k++) {
        const bool blank = isspace((unsigned char)source->text[k]);
        if (!blank || (n && out[n - 1] != ' ')) out[n++] = blank ? ' ' : source->text[k];
    }
    out[n] = '\0';
}

static bool binary(const struct source *source, size_t i)
{
    static const char *const types[] = {"return", "case", "double", "int",  "char", "const", "size_t",
                                        "void",   "bool", "sizeof", "long", "else", "FILE",  NULL};
    if (!i || source->token[i - 1].macro != source->token[i].macro || among(source, i - 1, types)) return false;
    if (i > 1 && is(source, i - 2, "struct")) return false;
    return source->token[i - 1].kind == NAME || source->token[i - 1].kind == NUMBER || is(source, i - 1, ")") ||
           is(source, i - 1, "]");
}

static void slip_mark(struct source *source, size_t i)
{
    static const char *const always[][2] = {{"<", "<="},  {"<", ">"},   {"<=", "<"},  {">", ">="},  {">", "<"},
                                            {">=", ">"},  {"==", "!="}, {"!=", "=="}, {"&&", "||"}, {"||", "&&"},
                                            {"++", "--"}, {"--", "++"}, {"+=", "-="}, {"-=", "+="}, {"*=", "/="},
                                            {"/=", "*="}, {"<<", ">>"}, {">>", "<<"}, {"!", " "},   {"?", "== 0 ?"}};
    static const char *const between[][2] = {{"+", "-"}, {"-", "+"}, {"*", "/"}, {"/", "*"},
                                             {"%", "/"}, {"&", "|"}, {"|", "&"}};
    for (size_t k = 0; k < sizeof always / sizeof always[0]; k++)
        if (is(source, i, always[k][0])) swap(source, i, always[k][1]);
    if (binary(source, i)) {
        for (size_t k = 0; k < sizeof between / sizeof between[0]; k++)
            if (is(source, i, between[k][0])) swap(source, i, between[k][1]);
    } else if (is(source, i, "-") || is(source, i, "~")) {
        swap(source, i, " ");
    }
}

/* A size in the declaration of an array, or of a parameter. */
static bool array_size(const struct source *source, size_t i)
{
    static const char *const ends[] = {";", "{", "}", NULL};
    static const char *const types[] = {"double", "int",      "char",     "const", "size_t",     "static", "struct",
                                        "bool",   "uint32_t", "uint64_t", "long",  "brv_status", "extern", NULL};
    if (!i || !is(source, i - 1, "[") || !is(source, i + 1, "]")) return false;
    bool given = false; /* an `=` before it: no longer what is declared, unless a comma follows */
    size_t j = i;
    for (int depth = 0; j-- > 0 && !among(source, j, ends);) {
        depth += is(source, j, ")") - is(source, j, "(");
        given |= is(source, j, "=") && depth >= 0;
        if (depth < 0) return function_at(source, i) == SIZE_MAX || source->function[function_at(source, i)].open > i;
    }
    return !given && among(source, j + 1, types);
}

static void slip_number(struct source *source, size_t i)
{
    char was[40], with[64];
    const struct token *token = &source->token[i];
    if (token->length > 30 || array_size(source, i)) return;
    snprintf(was, sizeof was, "%.*s", (int)token->length, source->text + token->at);
    const bool hexadecimal = was[0] == '0' && (was[1] == 'x' || was[1] == 'X');
    if (strpbrk(was, hexadecimal ? "pP" : ".eE")) {
        if (strtod(was, NULL) == 0.0) {
            swap(source, i, "1.0");
            return;
        }
        snprintf(with, sizeof with, "(%s * 1.1)", was);
        swap(source, i, with);
        snprintf(with, sizeof with, "(%s * 1.01)", was);
        swap(source, i, with);
        return;
    }
    char *suffix;
    const unsigned long long value = strtoull(was, &suffix, 0);
    snprintf(with, sizeof with, hexadecimal ? "0x%llx%s" : "%llu%s", value + 1, suffix);
    swap(source, i, with);
    if (value == 1) {
        snprintf(with, sizeof with, "0%s", suffix);
        swap(source, i, with);
    }
}

static void slip_name(struct source *source, size_t i)
{
    static const char *const pairs[][2] = {{"fmin", "fmax"},   {"GSL_MIN", "GSL_MAX"}, {"floor", "ceil"},
                                           {"MIN", "MAX"},     {"true", "false"},      {"GSL_MIN_DBL", "GSL_MAX_DBL"},
                                           {"lower", "upper"}, {"sin", "cos"}};
    for (size_t k = 0; k < sizeof pairs / sizeof pairs[0]; k++) {
        if (is(source, i, pairs[k][0])) swap(source, i, pairs[k][1]);
        if (is(source, i, pairs[k][1])) swap(source, i, pairs[k][0]);
    }
}

static void slip_condition(struct source *source, size_t i)
{
    char text[72];
    if ((!is(source, i, "if") && !is(source, i, "while")) || !is(source, i + 1, "(")) return;
    const size_t end = closing(source, i + 1);
    if (end >= source->n_token) return;
    quote(source, i, end, text);
    struct slip *slip = add(source, i + 1, "(!(", "negated: %s", text);
    slip->at[1] = source->token[end].at;
    slip->length[1] = 1;
    strcpy(slip->with[1], "))");
}

/* The `;` that ends what begins at i; n_token where it is no plain statement. */
static size_t statement_end(const struct source *source, size_t i)
{
    for (; i < source->n_token && !is(source, i, ";"); i++) {
        if (is(source, i, "}") || is(source, i, ":")) return source->n_token;
        if (is(source, i, "(") || is(source, i, "{") || is(source, i, "[")) i = closing(source, i);
    }
    return i;
}

static void slip_return(struct source *source, size_t i, size_t f)
{
    char text[72];
    const size_t end = statement_end(source, i);
    if (f == SIZE_MAX || end >= source->n_token || end == i + 1) return;
    if (!source->function[f].truth && !source->function[f].signed_value) return;
    quote(source, i, end, text);
    struct slip *slip = add(source, i, source->function[f].truth ? "return !(" : "return -(", "other sign: %s", text);
    slip->at[1] = source->token[end].at;
    slip->length[1] = 1;
    strcpy(slip->with[1], ");");
}

static void slip_statement(struct source *source, size_t i)
{
    static const char *const not [] = {
        "if",     "for",   "while",  "do",       "switch", "return",  "else",   "case",     "default",  "goto",
        "struct", "const", "static", "enum",     "union",  "typedef", "double", "int",      "size_t",   "char",
        "bool",   "void",  "long",   "unsigned", "int",    "float",   "assert", "uint32_t", "uint64_t", NULL};
    static const char *const starts[] = {"*", "(", "++", "--", NULL};
    char text[72];
    const size_t end = statement_end(source, i);
    if (end >= source->n_token || end == i || among(source, i, not )) return;
    if (source->token[i].kind != NAME && !among(source, i, starts)) return;
    if (source->token[i].kind == NAME && source->token[i + 1].kind == NAME) return; /* a declaration */
    if (source->token[i].kind == NAME && is(source, i + 1, "*") && source->token[i + 2].kind == NAME) return;
    quote(source, i, end, text);
    struct slip *slip = add(source, i, "", "dropped: %s", text);
    slip->length[0] = source->token[end].at - slip->at[0]; /* lines within are kept where it is written */
}

/* A statement begins at i: after the end of another, or after what governs it. */
static bool statement_begins(const struct source *source, size_t i, size_t governed)
{
    return i == governed || is(source, i - 1, ";") || is(source, i - 1, "{") || is(source, i - 1, "}") ||
           is(source, i - 1, "else") || is(source, i - 1, "do");
}

static void find_slips(struct source *source)
{
    size_t governed = SIZE_MAX, brackets = 0; /* no statement begins before `brackets` */
    for (size_t i = 0; i < source->n_token; i++) {
        const size_t f = function_at(source, i);
        if (is(source, i, "assert")) {
            i = closing(source, i + 1);
            continue;
        }
        if (source->token[i].kind == MARK) slip_mark(source, i);
        if (source->token[i].kind == NUMBER) slip_number(source, i);
        if (source->token[i].kind == NAME) slip_name(source, i);
        if (source->token[i].macro || f == SIZE_MAX || i <= source->function[f].open) continue;
        if ((is(source, i, "if") || is(source, i, "while") || is(source, i, "for") || is(source, i, "switch")) &&
            is(source, i + 1, "(")) {
            brackets = governed = closing(source, i + 1) + 1;
            slip_condition(source, i);
        }
        if (is(source, i, "return")) slip_return(source, i, f);
        if (i >= brackets && statement_begins(source, i, governed)) slip_statement(source, i);
    }
}

/* ---- the draw ---- */

static uint64_t mixed(uint64_t x) /* splitmix64: near numbers give far ones */
{
    x += UINT64_C(0x9e3779b97f4a7c15);
    x = (x ^ (x >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    x = (x ^ (x >> 27)) * UINT64_C(0x94d049bb133111eb);
    return x ^ (x >> 31);
}

static void write_slip(const struct source *source, const struct slip *slip, const char *path)
{
    FILE *out = fopen(path, "wb");
    if (!out) {
        perror(path);
        exit(4);
    }
    fprintf(out, "#line 1 \"%s\"\n", source->path); /* asserts name their line: it stays what it was */
    size_t i = 0;
    for (int k = 0; k < 2 && slip->length[k]; k++) {
        fwrite(source->text + i, 1, slip->at[k] - i, out);
        fputs(slip->with[k], out);
        i = slip->at[k] + slip->length[k];
        for (size_t j = slip->at[k]; j < i; j++)
            if (source->text[j] == '\n') putc('\n', out);
    }
    fputs(source->text + i, out);
    if (fclose(out)) {
        perror(path);
        exit(4);
    }
}

static void tell(const struct source *source, const struct slip *slip)
{
    const char *name = "-";
    int length = 1, first = 0, last = 0;
    if (slip->function != SIZE_MAX) {
        const struct function *function = &source->function[slip->function];
        name = source->text + source->token[function->name].at;
        length = (int)source->token[function->name].length;
        first = source->token[function->name].line;
        last = source->token[function->close].line;
    }
    printf("%s\t%d\t%.*s\t%d\t%d\t%s\n", source->path, slip->line, length, name, first, last, slip->what);
}

/* The n-th line of all that can hold a slip, and then one of its slips; false when there are not so many lines. */
static bool line_find(const struct source *source, size_t *n, struct slip **first, size_t *many)
{
    for (size_t i = 0; i < source->n_slip; i += *many) {
        for (*many = 1; i + *many < source->n_slip && source->slip[i + *many].line == source->slip[i].line;) ++*many;
        *first = &source->slip[i];
        if ((*n)-- == 0) return true;
    }
    return false;
}

int main(int argc, char **argv)
{
    const bool counting = argc > 2 && !strcmp(argv[1], "count");
    const int first = counting ? 2 : 5;
    if (argc <= first) {
        fputs("usage: mutate SEED NUMBER TRY OUT FILE... | mutate count FILE...\n", stderr);
        return 2;
    }
    const size_t n_file = (size_t)(argc - first);
    struct source *sources = calloc(n_file, sizeof *sources);
    if (!sources) return 6;
    size_t lines = 0, slips = 0;
    struct slip *slip;
    for (size_t i = 0; i < n_file; i++) {
        size_t enough = SIZE_MAX, many;
        source_read(&sources[i], argv[first + (int)i]);
        find_slips(&sources[i]);
        line_find(&sources[i], &enough, &slip, &many);
        lines += SIZE_MAX - enough;
        slips += sources[i].n_slip;
    }
    if (counting) {
        printf("%zu lines, %zu slips\n", lines, slips);
        return 0;
    }
    uint64_t state = 0;
    for (int i = 1; i <= 3; i++) state = mixed(state + strtoull(argv[i], NULL, 10));
    size_t at = lines ? (size_t)(state % lines) : 0, many = 1;
    for (size_t i = 0; i < n_file; i++) {
        if (!line_find(&sources[i], &at, &slip, &many)) continue;
        slip += mixed(state) % many;
        write_slip(&sources[i], slip, argv[4]);
        tell(&sources[i], slip);
        return 0;
    }
    fputs("mutate: there is nothing to change\n", stderr);
    return 2;
}
