/* A part of a sweep: its text as it is read, and, of a share of them, the file, as a run resumes it and --join reads it. The
 * first letter says what is put right before: of its lowest two bits one puts the right first line in front, the other the
 * right sum behind every line, for no fuzzer finds those by itself.                                                  */
#define _XOPEN_SOURCE 700
#include "fuzz/fuzz.h"

#include "report/part_lines.h"

#include <fcntl.h>
#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { POINTS = 3, PATH_SIZE = 128, TEXTS_PER_FILE = 32 };

static const struct brv_part_head head = {"0.0.0", "0123456789abcdef", "fedcba9876543210", POINTS, 1, 1};
static char folder[PATH_SIZE], path[PATH_SIZE + 8];

static void remove_folder(void)
{
    unlink(path);
    rmdir(folder);
}

/* In memory where there is such a place: millions of files are written. */
static void make_folder(void)
{
    snprintf(folder, sizeof folder, "%s/brevis_fuzz_XXXXXX", access("/dev/shm", W_OK) ? "/tmp" : "/dev/shm");
    fuzz_require(mkdtemp(folder), "a folder at %s", folder);
    snprintf(path, sizeof path, "%s/1_of_1", folder);
    atexit(remove_folder);
}

/* ---- the file ---- */

static void put_line(FILE *to, const char *line, size_t length, bool summed)
{
    uint64_t hash = 14695981039346656037u;
    for (size_t i = 0; i < length; i++) hash = (hash ^ (unsigned char)line[i]) * 1099511628211u;
    fwrite(line, 1, length, to);
    if (summed) fprintf(to, "%016" PRIx64, hash);
}

static void make_file(struct fuzz_page *page, const char *text, size_t size)
{
    static const char first[] =
        "brevis part 1, program 0.0.0, scenario 0123456789abcdef, sweep fedcba9876543210, points 3, part 1 of 1; ";
    const unsigned bits = size ? (unsigned char)text[0] & 3u : 0u;
    fuzz_page_begin(page);
    if (bits & 1u) {
        put_line(page->to, first, sizeof first - 1, true);
        fputc('\n', page->to);
    }
    for (size_t at = 1, length; at < size; at += length + 1) {
        const char *end = memchr(text + at, '\n', size - at);
        length = end ? (size_t)(end - text) - at : size - at;
        put_line(page->to, text + at, length, (bits & 2u) != 0);
        if (end) fputc('\n', page->to);
    }
    fuzz_page_end(page);
}

static void write_file(const char *text, size_t size)
{
    const int file = open(path, O_WRONLY | O_CREAT | O_TRUNC, 0600);
    fuzz_require(file >= 0 && write(file, text, size) == (ssize_t)size && !close(file), "%s", path);
}

static void check_kept(const char *text, size_t size)
{
    char *found = malloc(size + 1);
    const int file = open(path, O_RDONLY);
    fuzz_require(found && file >= 0 && read(file, found, size + 1) == (ssize_t)size && !close(file),
                 "as long as before");
    fuzz_require(!memcmp(found, text, size), "a file that was refused stays as it is");
    free(found);
}

/* ---- numbers through a file ---- */

/* Any doubles, made of the bytes. */
static void make_rows(struct brv_headlines rows[POINTS], const uint8_t *data, size_t size)
{
    double *number = (double *)rows;
    for (size_t i = 0; i < POINTS * sizeof *rows / sizeof *number; i++) {
        uint64_t bits = 0;
        for (size_t k = 0; k < 8 && size; k++) bits = bits << 8 | data[(8 * i + k) % size];
        memcpy(&number[i], &bits, sizeof bits);
        if (!isfinite(number[i])) number[i] = i % 2 ? (double)NAN : -(double)INFINITY; /* what headlines may be */
    }
}

static bool same_rows(const struct brv_headlines one[POINTS], const struct brv_headlines other[POINTS])
{
    const double *a = (const double *)one, *b = (const double *)other;
    for (size_t i = 0; i < POINTS * sizeof *one / sizeof *a; i++)
        if (!(isnan(a[i]) && isnan(b[i])) && memcmp(&a[i], &b[i], sizeof *a) != 0) return false;
    return true;
}

/* Goes on with the file, or begins it anew, and reads what was written. */
static void go_on(const uint8_t *data, size_t size, bool force)
{
    static struct brv_headlines rows[POINTS], wrote[POINTS], joined[POINTS];
    struct brv_part part;
    struct brv_faults faults = {.n = 0};
    fuzz_require(!brv_part_open(&part, folder, &head, force, rows, &faults) && part.done <= part.n, "it goes on");
    make_rows(wrote, data, size);
    for (size_t i = 0; i < part.done; i++) wrote[i] = rows[i];
    fuzz_require(!brv_part_add(&part, wrote + part.done, part.n - part.done, &faults), "the rest is written");
    brv_part_close(&part);
    fuzz_require(!brv_part_join(folder, &head, joined, &faults) && !faults.n, "what is whole joins: %s",
                 faults.n ? faults.fault[0].text : "");
    fuzz_require(same_rows(wrote, joined), "the same numbers");
}

static void check_file(const uint8_t *data, size_t size, const struct fuzz_page *page)
{
    static struct brv_headlines rows[POINTS];
    struct brv_part part;
    struct brv_faults faults = {.n = 0}, more = {.n = 0};
    const int joined = brv_part_join(folder, &head, rows, &faults);
    fuzz_faults_check(&faults, joined, path, page->text, page->size);
    const int opened = brv_part_open(&part, folder, &head, false, rows, &more);
    fuzz_faults_check(&more, opened, path, page->text, page->size);
    fuzz_require(!opened || joined, "what cannot be gone on with cannot be joined");
    if (opened)
        check_kept(page->text, page->size);
    else
        fuzz_require(joined || part.done == part.n, "joined, but only %zu of %zu", part.done, part.n);
    if (!opened) brv_part_close(&part);
    brv_faults_free(&faults);
    brv_faults_free(&more);
    go_on(data, size, opened != 0);
}

/* ---- text ---- */

/* Reads what is in the page, without a file. */
static void read_text(struct brv_part_held *held, struct brv_headlines rows[POINTS], struct brv_faults *faults,
                      const struct fuzz_page *page)
{
    char *text = fuzz_text((const uint8_t *)page->text, page->size);
    brv_part_read(held, path, text, page->size, &head, rows, faults);
    free(text);
    fuzz_faults_check(faults, faults->n > 0, path, page->text, page->size);
}

/* Points that were read, written and read again. */
static void check_again(const struct brv_headlines rows[POINTS], size_t n)
{
    static struct brv_headlines again[POINTS];
    char line[BRV_PART_LINE_SIZE];
    struct brv_faults faults = {.n = 0};
    struct brv_part_held held;
    struct fuzz_page page;
    fuzz_page_begin(&page);
    brv_part_write_head(line, &head);
    fputs(line, page.to);
    for (size_t i = 0; i < n; i++) fwrite(line, 1, brv_part_write_point(line, i, &rows[i]), page.to);
    fuzz_page_end(&page);
    for (size_t i = n; i < POINTS; i++) again[i] = rows[i];
    read_text(&held, again, &faults, &page);
    fuzz_require(!faults.n && !held.torn && held.n == n && held.whole == (long long)page.size, "%zu points", n);
    fuzz_require(same_rows(rows, again), "the same numbers");
    free(page.text);
}

static void check_text(const struct fuzz_page *page, bool wholly)
{
    static struct brv_headlines rows[POINTS];
    struct brv_faults faults = {.n = 0};
    struct brv_part_held held;
    read_text(&held, rows, &faults, page);
    fuzz_require(held.whole >= 0 && held.whole <= (long long)page->size, "%lld of %zu bytes", held.whole, page->size);
    fuzz_require(faults.n || held.n <= POINTS, "%zu points", held.n);
    if (wholly && !faults.n && held.n) check_again(rows, held.n);
    brv_faults_free(&faults);
}

void fuzz_part(const uint8_t *data, size_t size)
{
    struct fuzz_page page;
    if (!*folder) make_folder();
    make_file(&page, (const char *)data, size);
    const bool wholly = !fuzz_sparing || fuzz_mix(data, size) % TEXTS_PER_FILE == 0;
    check_text(&page, wholly);
    if (wholly) {
        write_file(page.text, page.size);
        check_file(data, size, &page);
    }
    free(page.text);
}
