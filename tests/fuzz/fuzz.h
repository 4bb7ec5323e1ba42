/* What the fuzz targets share. A target takes any bytes and looks at what the program makes of them: it must not crash, and
 * what it says must hold. Nothing here knows a fuzzer: driver.c hands the targets to libFuzzer, unit/test_corpus.c feeds
 * them the inputs that are kept in corpus/.                                                                         */
#ifndef BRV_TESTS_FUZZ_H
#define BRV_TESTS_FUZZ_H

#include "scenario/fault.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

typedef void fuzz_target(const uint8_t *data, size_t size);

fuzz_target fuzz_scenario, fuzz_quantity, fuzz_set, fuzz_vary, fuzz_csv, fuzz_part, fuzz_json, fuzz_whole;

/* Runs that the model really solved, those that it gave up with words, and how many inputs of `whole` were sound. */
extern unsigned long fuzz_sound, fuzz_solved, fuzz_given_up;

/* What costs much is done for a share of the inputs: millions follow. */
extern bool fuzz_sparing;

/* Names the input in the message of a failure; NULL: the fuzzer keeps it itself. */
extern const char *fuzz_input;

/* Ends the program with what was wanted unless the condition holds; what follows is made as by printf. */
#define fuzz_require(condition, ...)                                                                                   \
    do {                                                                                                               \
        if (!(condition)) fuzz_fail(__FILE__, __LINE__, #condition, __VA_ARGS__);                                      \
    } while (0)
_Noreturn void fuzz_fail(const char *file, int line, const char *condition, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* The bytes with a 0 behind them, in memory of just that size, so that reading past the end is seen; to be freed. */
char *fuzz_text(const uint8_t *data, size_t size);

/* Some number made of the bytes, the same on every run: what costs much is done for a share of the inputs. */
unsigned fuzz_mix(const uint8_t *data, size_t size);

/* Is it UTF-8 of letters only, nothing that moves a cursor or turns the order of letters? */
bool fuzz_is_plain(const char *text);

/* Is it UTF-8, whatever letters? */
bool fuzz_is_utf8(const char *text, size_t size);

/* Faults of a text called `file`: places inside of it, words in every one, printed one a line; none where `code` is 0. */
void fuzz_faults_check(const struct brv_faults *faults, int code, const char *file, const char *text, size_t size);

/* Two readings of one text found the same. */
void fuzz_faults_same(const struct brv_faults *one, const struct brv_faults *other);

/* JSON (RFC 8259), strictly: one value and blanks around it, UTF-8, no name twice in an object. NULL, or where it is
 * not.                                                                                                             */
const char *fuzz_json_fault(const char *json, size_t size);

/* The string that begins at the quote `json`, decoded into out[room], 0 behind it; its length there, or -1. */
long fuzz_json_string(char *out, size_t room, const char *json);

/* A table that the program wrote: CSV without a fault, as many fields in every row as names in the first. */
void fuzz_table_check(const char *text, size_t size);

/* A scenario's text with one of its values changed to another that the table of keys allows; its length, or 0 where that
 * was not to be done. The same for the same `seed`.                                                                 */
enum { FUZZ_LONGEST = 4096 };
size_t fuzz_change(char *out, size_t room, const uint8_t *data, size_t size, unsigned seed);

/* Writes to memory what goes into a file: begin, print, end; `text` is to be freed. */
struct fuzz_page {
    char *text;
    size_t size;
    FILE *to;
};
void fuzz_page_begin(struct fuzz_page *page);
void fuzz_page_end(struct fuzz_page *page);

/* A scenario that is read once, for targets that change it; see base.yaml. */
#define FUZZ_BASE BRV_DATA "/tests/fuzz/base.yaml"

#endif
