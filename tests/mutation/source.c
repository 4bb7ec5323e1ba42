#include "source.h"

#include <ctype.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void *grown(void *array, size_t n, size_t size)
{
    if (n & (n - 1)) return array; /* room doubles at every power of two */
    void *larger = realloc(array, (n ? 2 * n : 1) * size);
    if (larger) return larger;
    fputs("mutate: out of memory\n", stderr);
    exit(6);
}

static void read_text(struct source *source)
{
    FILE *file = fopen(source->path, "rb");
    if (!file) {
        perror(source->path);
        exit(4);
    }
    size_t n = 0;
    for (int c; (c = getc(file)) != EOF;) {
        source->text = grown(source->text, n, 1);
        source->text[n++] = (char)c;
    }
    source->text = grown(source->text, n, 1);
    source->text[n] = '\0';
    fclose(file);
}

/* ---- tokens ---- */

bool is(const struct source *source, size_t i, const char *word)
{
    return i < source->n_token && strlen(word) == source->token[i].length &&
           !memcmp(source->text + source->token[i].at, word, source->token[i].length);
}

bool among(const struct source *source, size_t i, const char *const words[])
{
    for (; *words; words++)
        if (is(source, i, *words)) return true;
    return false;
}

static size_t name_end(const char *text)
{
    size_t n = 0;
    while (isalnum((unsigned char)text[n]) || text[n] == '_') n++;
    return n;
}

static size_t number_end(const char *text)
{
    size_t n = 0;
    const bool hexadecimal = text[0] == '0' && tolower((unsigned char)text[1]) == 'x';
    while (isalnum((unsigned char)text[n]) || text[n] == '.' ||
           ((text[n] == '+' || text[n] == '-') && !hexadecimal && tolower((unsigned char)text[n - 1]) == 'e'))
        n++;
    return n;
}

static size_t mark_end(const char *text)
{
    static const char *const marks[] = {"<<=", ">>=", "...", "->", "++", "--", "<=", ">=", "==", "!=", "&&",
                                        "||",  "+=",  "-=",  "*=", "/=", "%=", "&=", "|=", "^=", "<<", ">>"};
    for (size_t i = 0; i < sizeof marks / sizeof marks[0]; i++)
        if (!strncmp(text, marks[i], strlen(marks[i]))) return strlen(marks[i]);
    return 1;
}

static size_t quoted_end(const char *text)
{
    size_t n = 1;
    while (text[n] && text[n] != text[0]) n += text[n] == '\\' && text[n + 1] ? 2 : 1;
    return text[n] ? n + 1 : n;
}

/* A directive up to what may be changed in it: the body of a #define, and nothing of any other. */
static size_t directive_end(const char *text, bool *macro)
{
    size_t n = 1 + strspn(text + 1, " \t");
    *macro = !strncmp(text + n, "define", 6);
    if (*macro) {
        n += 6 + strspn(text + n + 6, " \t");
        n += name_end(text + n);
        return text[n] == '(' ? n + strcspn(text + n, ")") + 1 : n;
    }
    while (text[n] && text[n] != '\n') n += text[n] == '\\' && text[n + 1] ? 2 : 1;
    return n;
}

static size_t comment_end(const char *text)
{
    if (text[1] == '/') return strcspn(text, "\n");
    const char *end = strstr(text + 2, "*/");
    return end ? (size_t)(end + 2 - text) : strlen(text);
}

static void scan(struct source *source)
{
    const char *text = source->text;
    int line = 1;
    bool macro = false, fresh = true; /* fresh: nothing but blanks on this line yet */
    for (size_t i = 0, n; text[i]; i += n) {
        n = 1;
        struct token token = {MARK, i, 1, line, macro};
        bool keep = true;
        if (text[i] == '\\' && text[i + 1] == '\n') {
            line++;
            n = 2;
            continue;
        }
        if (text[i] == '\n') {
            line++;
            macro = false;
            fresh = true;
            continue;
        }
        if (isspace((unsigned char)text[i])) continue;
        if (text[i] == '/' && (text[i + 1] == '*' || text[i + 1] == '/')) {
            n = comment_end(text + i);
            keep = false;
        } else if (text[i] == '#' && fresh) {
            n = directive_end(text + i, &macro);
            keep = false;
        } else if (text[i] == '"' || text[i] == '\'') {
            n = quoted_end(text + i);
            token.kind = TEXT;
        } else if (isdigit((unsigned char)text[i]) || (text[i] == '.' && isdigit((unsigned char)text[i + 1]))) {
            n = number_end(text + i);
            token.kind = NUMBER;
        } else if (isalpha((unsigned char)text[i]) || text[i] == '_') {
            n = name_end(text + i);
            token.kind = NAME;
        } else {
            n = mark_end(text + i);
        }
        fresh = false;
        for (size_t j = i; j < i + n; j++) line += text[j] == '\n';
        if (!keep) continue;
        token.length = n;
        source->token = grown(source->token, source->n_token, sizeof *source->token);
        source->token[source->n_token++] = token;
    }
}

size_t closing(const struct source *source, size_t i)
{
    static const char *const opens[] = {"(", "[", "{", NULL}, *const closes[] = {")", "]", "}", NULL};
    const bool macro = source->token[i].macro;
    int depth = 0;
    for (; i < source->n_token; i++) {
        if (source->token[i].macro != macro) continue;
        depth += among(source, i, opens) - among(source, i, closes);
        if (!depth) break;
    }
    return i;
}

/* ---- functions ---- */

static void find_functions(struct source *source)
{
    size_t start = 0; /* of what stands outside of functions */
    for (size_t i = 0; i < source->n_token; i++) {
        if (source->token[i].macro) continue;
        if (is(source, i, ";")) start = i + 1;
        if (!is(source, i, "{")) continue;
        const size_t end = closing(source, i);
        if (i > start && is(source, i - 1, ")")) {
            struct function found = {0};
            found.name = start;
            while (found.name < i && (source->token[found.name].macro || !is(source, found.name + 1, "(")))
                found.name++;
            found.open = i;
            found.close = end;
            for (size_t j = start; j < found.name; j++) {
                found.truth |= is(source, j, "bool");
                found.signed_value |= is(source, j, "double") || is(source, j, "int");
            }
            if (found.name && is(source, found.name - 1, "*")) found.truth = found.signed_value = false;
            source->function = grown(source->function, source->n_function, sizeof *source->function);
            source->function[source->n_function++] = found;
            start = end + 1;
        }
        i = end;
    }
}

size_t function_at(const struct source *source, size_t i)
{
    for (size_t f = 0; f < source->n_function; f++)
        if (i >= source->function[f].name && i <= source->function[f].close) return f;
    return SIZE_MAX;
}

void source_read(struct source *source, const char *path)
{
    *source = (struct source){.path = path};
    read_text(source);
    scan(source);
    find_functions(source);
}
