#include "report/part_lines.h"

#include "report/number.h"

#include <inttypes.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { N_NUMBER = BRV_N_SITE * BRV_N_HEADLINE * 3, SUM_SIZE = 17, MOST_LISTED = 20 };

/* ---- lines ---- */

static void sum_of(char out[SUM_SIZE], const char *text, size_t length)
{
    uint64_t hash = 14695981039346656037u;
    for (size_t i = 0; i < length; i++) hash = (hash ^ (unsigned char)text[i]) * 1099511628211u;
    snprintf(out, SUM_SIZE, "%016" PRIx64, hash);
}

/* The numbers of a point as one row, in the order of the file. */
static double *number_at(struct brv_headlines *row, size_t i)
{
    struct brv_spread *spread = &row->at[i / 3 / BRV_N_HEADLINE][i / 3 % BRV_N_HEADLINE];
    return i % 3 == 0 ? &spread->value : i % 3 == 1 ? &spread->low : &spread->high;
}

size_t brv_part_write_point(char line[BRV_PART_LINE_SIZE], size_t point, const struct brv_headlines *row)
{
    char text[BRV_NUMBER_SIZE], sum[SUM_SIZE];
    struct brv_headlines copy = *row;
    size_t n = (size_t)snprintf(line, BRV_PART_LINE_SIZE, "%zu,", point);
    for (size_t i = 0; i < N_NUMBER; i++)
        n += (size_t)snprintf(line + n, BRV_PART_LINE_SIZE - n, "%s,", brv_number_exact(text, *number_at(&copy, i)));
    sum_of(sum, line, n);
    return n + (size_t)snprintf(line + n, BRV_PART_LINE_SIZE - n, "%s\n", sum);
}

void brv_part_write_head(char line[BRV_PART_HEAD_SIZE], const struct brv_part_head *head)
{
    char sum[SUM_SIZE];
    const size_t n =
        (size_t)snprintf(line, BRV_PART_HEAD_SIZE - SUM_SIZE - 1,
                         "brevis part 1, program %s, scenario %s, sweep %s, points %zu, part %u of %u; ", head->version,
                         head->scenario, head->sweep, head->points, head->part, head->parts);
    sum_of(sum, line, n);
    snprintf(line + n, BRV_PART_HEAD_SIZE - n, "%s\n", sum);
}

/* Does the line end with its own sum? */
static bool sum_holds(const char *line, size_t length)
{
    char sum[SUM_SIZE];
    const size_t n = SUM_SIZE - 1;
    if (length < n) return false;
    sum_of(sum, line, length - n);
    return !memcmp(line + length - n, sum, n);
}

/* One number up to the next comma; NULL when it is none. */
static const char *read_number(double *value, const char *text)
{
    char *end;
    if (*text == ',') {
        *value = (double)NAN;
        return text + 1;
    }
    *value = strtod(text, &end);
    return end > text && *end == ',' ? end + 1 : NULL;
}

/* "5,NUMBERS,SUM" whose sum holds; false when something else stands there. */
static bool read_point(const char *line, size_t *point, struct brv_headlines *row)
{
    char *end;
    *point = strtoull(line, &end, 10);
    if (end == line || *end != ',') return false;
    const char *at = end + 1;
    for (size_t i = 0; i < N_NUMBER; i++)
        if (!(at = read_number(number_at(row, i), at))) return false;
    return strlen(at) == SUM_SIZE - 1;
}

/* ---- a file of them ---- */

size_t brv_part_points(const struct brv_part_head *head)
{
    return head->points < head->part ? 0 : (head->points - head->part) / head->parts + 1;
}

size_t brv_part_number(const struct brv_part_head *head, size_t k)
{
    return head->part - 1 + k * head->parts;
}

/* What a first line says, word by word. */
enum head_word { PROGRAM, SCENARIO, SWEEP, POINTS, PART, PARTS, N_WORD };
struct head_words {
    char word[N_WORD][64];
};

/* False when the line is none that a part begins with. */
static bool split_head(struct head_words *words, const char *line)
{
    static const char *const before[N_WORD] = {
        "brevis part 1, program ", ", scenario ", ", sweep ", ", points ", ", part ", " of "};
    for (size_t i = 0; i < N_WORD; i++) {
        if (strncmp(line, before[i], strlen(before[i])) != 0) return false;
        line += strlen(before[i]);
        const size_t length = strcspn(line, ",; ");
        if (length == 0 || length >= sizeof words->word[i]) return false;
        snprintf(words->word[i], sizeof words->word[i], "%.*s", (int)length, line);
        line += length;
    }
    return *line == ';';
}

/* A line that was found may hold anything; its words are told. */
static bool split_found(struct head_words *words, const char *line)
{
    char shown[BRV_SHOWN_SIZE];
    if (!split_head(words, line)) return false;
    for (size_t i = 0; i < N_WORD; i++)
        snprintf(words->word[i], sizeof words->word[i], "%.*s", (int)sizeof words->word[i] - 1,
                 brv_fault_shown(shown, words->word[i]));
    return true;
}

/* What differs between the first line found and the one that is wanted. */
static void list_head(const char *path, const char *found, const struct brv_part_head *head, struct brv_faults *faults)
{
    char wanted[BRV_PART_HEAD_SIZE], shown[BRV_SHOWN_SIZE];
    struct head_words is, want;
    brv_part_write_head(wanted, head);
    if (!split_found(&is, found) || !split_head(&want, wanted)) {
        brv_faults_add(faults, path, 1, 1, "%s: the first line of a part is wanted", brv_fault_shown(shown, found));
        return;
    }
    const size_t before = faults->n;
    if (strcmp(is.word[PROGRAM], want.word[PROGRAM]) != 0)
        brv_faults_add(faults, path, 1, 1, "written by brevis %s, wanted %s: the same version for all points",
                       is.word[PROGRAM], want.word[PROGRAM]);
    if (strcmp(is.word[SCENARIO], want.word[SCENARIO]) != 0)
        brv_faults_add(faults, path, 1, 1, "belongs to scenario %s, wanted %s", is.word[SCENARIO], want.word[SCENARIO]);
    if ((strcmp(is.word[SWEEP], want.word[SWEEP]) != 0 && !strcmp(is.word[SCENARIO], want.word[SCENARIO])) ||
        strcmp(is.word[POINTS], want.word[POINTS]) != 0)
        brv_faults_add(faults, path, 1, 1,
                       "belongs to other keys or values, or to a scenario that gives other keys (sweep %s, %s points), "
                       "wanted %s, %s points",
                       is.word[SWEEP], is.word[POINTS], want.word[SWEEP], want.word[POINTS]);
    if (strcmp(is.word[PART], want.word[PART]) != 0 || strcmp(is.word[PARTS], want.word[PARTS]) != 0)
        brv_faults_add(faults, path, 1, 1, "holds part %s of %s, wanted %s of %s", is.word[PART], is.word[PARTS],
                       want.word[PART], want.word[PARTS]);
    if (faults->n == before) brv_faults_add(faults, path, 1, 1, "the first line is damaged: its sum does not fit");
}

/* One line of numbers, the k-th; false when it is not good, with a fault unless it is the torn end. */
static bool take_line(struct brv_part_held *held, const char *path, const char *line, size_t length, size_t number,
                      bool last, const struct brv_part_head *head, struct brv_headlines rows[],
                      struct brv_faults *faults)
{
    struct brv_headlines row;
    size_t point;
    const size_t wanted = brv_part_number(head, held->n);
    if (!sum_holds(line, length)) {
        if (last) {
            held->torn = true;
            held->line = number;
        } else {
            brv_faults_add(faults, path, (int)number, 1,
                           "this line is damaged: its sum does not fit; point %zu is wanted", wanted);
        }
    } else if (!read_point(line, &point, &row)) {
        brv_faults_add(faults, path, (int)number, 1, "a point and its %d numbers are wanted", (int)N_NUMBER);
    } else if (held->n >= brv_part_points(head)) {
        brv_faults_add(faults, path, (int)number, 1, "point %zu stands here; the part ends with the line above", point);
    } else if (point != wanted) {
        brv_faults_add(faults, path, (int)number, 1, "point %zu stands here, wanted %zu", point, wanted);
    } else {
        rows[point] = row;
        return true;
    }
    return false;
}

void brv_part_read(struct brv_part_held *held, const char *path, char *text, size_t size,
                   const struct brv_part_head *head, struct brv_headlines rows[], struct brv_faults *faults)
{
    char wanted[BRV_PART_HEAD_SIZE];
    brv_part_write_head(wanted, head);
    char *end = memchr(text, '\n', size);
    *held = (struct brv_part_held){.empty = !end};
    if (!end) { /* cut off in its first line, or something else altogether */
        if (size && (size >= strlen(wanted) || memcmp(text, wanted, size))) list_head(path, text, head, faults);
        return;
    }
    *end = '\0';
    wanted[strlen(wanted) - 1] = '\0';
    if (strcmp(text, wanted)) {
        list_head(path, text, head, faults);
        return;
    }
    held->whole = end + 1 - text;
    const size_t before = faults->n;
    size_t number = 2;
    for (char *line = end + 1; line < text + size && faults->n < before + MOST_LISTED; line = end + 1, number++) {
        end = memchr(line, '\n', (size_t)(text + size - line));
        const bool whole = end != NULL;
        if (!end) end = text + size; /* one byte more is there */
        *end = '\0';
        const bool last = end + 1 >= text + size;
        const bool good =
            take_line(held, path, line, whole ? (size_t)(end - line) : 0, number, last, head, rows, faults);
        if (!good && held->torn) return;
        held->n++; /* after a bad line the next one is wanted all the same */
        if (faults->n == before) held->whole = end + 1 - text;
    }
}
