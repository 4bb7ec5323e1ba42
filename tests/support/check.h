/* Checks on numbers, for cmocka tests.
 * cmocka 1.1.5 has no comparison of doubles: its assert_float_equal casts to float, where 1 and 1 + 1e-9 are equal.  */
#ifndef BRV_TESTS_SUPPORT_CHECK_H
#define BRV_TESTS_SUPPORT_CHECK_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* One row of docs/validation.md: compares, records (when BREVIS_RECORD names a file), and fails the test when
 * |found - expected| exceeds `tolerance` or is not a number. `source` is a key of docs/sources.md and how it was
 * seen, as in "goldenberg-1952 (computed)"; `reason` says why the tolerance is what it is.                      */
void check_row(const char *what, const char *source, double found, double expected, double tolerance,
               const char *reason);

/* A row that may miss: a comparison with people or animals, which is shown with its miss and fails nothing. */
void compare_row(const char *what, const char *source, double found, double expected, double tolerance,
                 const char *reason);

/* The same without a row: fails when |found - expected| > absolute + relative |expected|. Prints %.17g. */
#define check_close(found, expected, relative, absolute)                                                               \
    check_close_at((found), (expected), (relative), (absolute), #found, __FILE__, __LINE__)

void check_close_at(double found, double expected, double relative, double absolute, const char *what, const char *file,
                    int line);

#endif
