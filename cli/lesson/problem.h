/* A number problem of a course: the question with its given numbers, the working, and the key that the model computes.
 * Given numbers are those of the printed problem or, with a seed, drawn from a short list of round values by
 * base/random: word `n` of problem `no` is a fixed function of (seed, no, n), so a sheet can be made again anywhere.
 * Nothing that answers is typed in: a key is a number of the model, a sentence is made from keys. A printed answer stands
 * beside the key of the printed numbers only, as it was printed, with the half of its last digit.
 * Tests: tests/unit/test_problems.c (a second way for every key), tests/validation/test_problems.c (printed answers). */
#ifndef BRV_CLI_LESSON_PROBLEM_H
#define BRV_CLI_LESSON_PROBLEM_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
    BRV_PROBLEM_QUESTION = 640,
    BRV_PROBLEM_STEP = 400,
    BRV_PROBLEM_STEPS = 8,
    BRV_PROBLEM_KEYS = 12,
    BRV_PROBLEM_GIVENS = 8,
    BRV_PROBLEM_QUANTITY = 64,
    BRV_PROBLEM_SAID = 48,
    BRV_PROBLEM_SAIDS = 16
};

/* A unit of the sheet: value in SI = number x scale. */
struct brv_problem_unit {
    const char *name, *si;
    double scale;
};

/* By its name; every unit that a problem uses is in the table, tests/unit/test_problems.c. */
const struct brv_problem_unit *brv_problem_unit_called(const char *name);

struct brv_problem_key {
    char quantity[BRV_PROBLEM_QUANTITY];
    const struct brv_problem_unit *unit;
    double value;              /* [SI] */
    double printed;            /* as somebody else printed or worked it out, in `unit`; NAN: none */
    double digit;              /* by how much it may miss for its digits, in `unit` */
    const char *source, *seen; /* key of docs/sources.md; seen, abstract, memory, computed; NULL: none */
    bool slip;                 /* what is printed is wrong, and shown for that */
};

struct brv_problem {
    int no;
    const char *subject;
    char question[BRV_PROBLEM_QUESTION];
    size_t n_given;
    double given[BRV_PROBLEM_GIVENS]; /* [n_given] in the order of the question [SI] */
    size_t n_step;
    char step[BRV_PROBLEM_STEPS][BRV_PROBLEM_STEP];
    size_t n_key;
    struct brv_problem_key key[BRV_PROBLEM_KEYS];
};

/* What makes one problem. */
struct brv_problem_maker {
    struct brv_problem *problem;
    bool drawn; /* numbers by the seed; false: those in print */
    uint32_t seed;
    size_t n_said;
    char said[BRV_PROBLEM_SAIDS][BRV_PROBLEM_SAID];
};

/* The next given number: `printed`, or one of `choice` [SI]. */
double brv_problem_given(struct brv_problem_maker *maker, double printed, const double choice[], size_t n);

/* "6 mm", "2e8 W/cm2": at four digits. Returns `out`. */
const char *brv_problem_number(char out[BRV_PROBLEM_SAID], double number, const char *unit);

/* "6 mm": a given number in full, and a computed one at four digits; the text lasts for BRV_PROBLEM_SAIDS more. */
const char *brv_problem_say(struct brv_problem_maker *maker, double value, const char *unit);

/* The same at two digits: what a spread leaves of a number. */
const char *brv_problem_about(struct brv_problem_maker *maker, double value, const char *unit);

void brv_problem_ask(struct brv_problem_maker *maker, const char *format, ...) __attribute__((format(printf, 2, 3)));
void brv_problem_step(struct brv_problem_maker *maker, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* One key more. */
struct brv_problem_key *brv_problem_answer(struct brv_problem_maker *maker, double value, const char *unit,
                                           const char *quantity);

/* What is printed for it; left out where numbers are drawn. */
void brv_problem_printed(const struct brv_problem_maker *maker, struct brv_problem_key *key, double printed,
                         double digit, const char *source, const char *seen);

/* The numbers of choices of a given number. */
#define BRV_CHOICES(...) (const double[]){__VA_ARGS__}, sizeof((const double[]){__VA_ARGS__}) / sizeof(double)

#endif
