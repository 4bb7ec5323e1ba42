/* Scenario texts for tests: read through the front door, taken whole or refused with exact messages. */
#ifndef BRV_TESTS_SUPPORT_READING_H
#define BRV_TESTS_SUPPORT_READING_H

#include "scenario/request.h"

#include <stddef.h>

enum { MESSAGES_SIZE = 4096 };

struct outcome {
    int code;
    struct brv_request request;
    char messages[MESSAGES_SIZE]; /* as printed, the file called FILE */
};

/* A sound light section, and a text that says everything that can be said. */
#define LIGHT "light: {wavelength: 755 nm, pulse: 6.3 ns, spot: 3.7 mm, fluence: 1.37 J/cm2}\n"
extern const char whole[];

/* The text as a file, with --set arguments. */
struct outcome read_with(const char *text, const char *const set[], size_t n_set);
struct outcome read_text(const char *text);

/* The scenario of a text that must be sound. */
struct brv_scenario sound_with(const char *text, const char *const set[], size_t n_set);
struct brv_scenario sound(const char *text);

/* Refused with exactly these messages, in this order. */
void refused_with(const char *text, const char *const set[], size_t n_set, const char *messages);
void refused(const char *text, const char *messages);

#endif
