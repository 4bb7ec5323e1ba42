/* `--vary KEY=FROM..TO:N`, its values as text and back, and for small sweeps all points through the reader. */
#include "fuzz/fuzz.h"

#include "scenario/document.h"
#include "scenario/points.h"
#include "scenario/quantity.h"
#include "scenario/vary.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_LOOKED_AT = 24, MOST_POINTS = 4 };

static struct brv_request base;
static bool is_read;

static void read_base(void)
{
    struct brv_faults faults = {.n = 0};
    fuzz_require(!brv_request_read(&base, FUZZ_BASE, NULL, 0, &faults), "%s is sound", FUZZ_BASE);
    is_read = true;
}

static void check_faults(const char *argument, const struct brv_faults *faults)
{
    fuzz_faults_check(faults, faults->n > 0, "", "", 0);
    for (size_t i = 0; i < faults->n; i++) {
        const struct brv_fault *fault = &faults->fault[i];
        fuzz_require(fuzz_is_plain(fault->file), "a name without controls: %s", fault->file);
        if (strncmp(fault->file, "--vary ", 7) != 0) continue;
        fuzz_require(fault->line >= 1 && fault->column >= 1 && fault->column <= (int)strlen(argument) + 1,
                     "a place inside of %s: %d:%d: %s", argument, fault->line, fault->column, fault->text);
    }
}

/* Values rise from FROM to TO, each with a text of its own. */
static void check_values(const struct brv_vary *vary)
{
    char text[BRV_VARY_VALUE_SIZE];
    const size_t step = vary->n <= MOST_LOOKED_AT ? 1 : (vary->n - 1) / (MOST_LOOKED_AT - 1);
    double before = -INFINITY;
    for (size_t i = 0; i < vary->n; i += step) {
        const double value = brv_vary_value(vary, i);
        brv_vary_text(text, vary, i);
        fuzz_require(strlen(text) < BRV_VARY_VALUE_SIZE && fuzz_is_plain(text), "a text for value %zu: %s", i, text);
        fuzz_require(isfinite(value), "%s reads back", text);
        /* Twelve digits of FROM and TO that lie closer than that fall together. */
        const double slack = 1e-11 * fmax(fabs(vary->from), fabs(vary->to)) +
                             1e-11 * (vary->key->dimension == BRV_TEMPERATURE ? 273.15 : 0.0);
        fuzz_require(value >= vary->from - slack && value <= vary->to + slack, "value %zu, %s = %.17g, of %s to %s", i,
                     text, value, vary->from_text, vary->to_text);
        fuzz_require(value >= before - slack, "value %zu, %s, is not below the one before it", i, text);
        before = value;
    }
    const struct brv_unit *unit = brv_vary_unit(vary);
    fuzz_require((unit != NULL) == (vary->key->dimension != BRV_PURE), "a unit where there is one");
}

static void check_points(const char *argument)
{
    struct brv_points points;
    struct brv_faults faults = {.n = 0};
    char hash[BRV_POINTS_HASH_SIZE], text[BRV_POINTS_TEXT_SIZE];
    static struct brv_request request;
    const int code = brv_points_read(&points, FUZZ_BASE, NULL, 0, &argument, 1, &faults);
    fuzz_require((code != 0) == (faults.n > 0), "exit code %d with %zu faults", code, faults.n);
    check_faults(argument, &faults);
    for (size_t i = 0; i < points.n && !code; i++) {
        fuzz_require(!brv_points_request(&request, &points, i), "point %zu is sound as before", i);
        fuzz_require(fuzz_is_plain(brv_points_text(text, &points, i)), "a text of point %zu", i);
    }
    fuzz_require(code || strlen(brv_points_hash(hash, &points)) == BRV_POINTS_HASH_SIZE - 1, "a hash");
    brv_points_free(&points);
    brv_faults_free(&faults);
}

/* Does a scenario take FROM and TO? Only then are they measured. */
static bool is_taken(const char *argument, const struct brv_vary *vary)
{
    char why[BRV_QUANTITY_WHY_SIZE];
    double number;
    return vary->key && !strpbrk(argument, "\t\r\n") &&
           brv_quantity_read(&number, vary->from_text, vary->key->dimension, why) &&
           brv_quantity_read(&number, vary->to_text, vary->key->dimension, why);
}

void fuzz_vary(const uint8_t *data, size_t size)
{
    if (!is_read) read_base();
    char *argument = fuzz_text(data, size);
    struct brv_faults faults = {.n = 0};
    struct brv_vary vary;
    bool good = brv_vary_split(&vary, argument, &base, &faults);
    fuzz_require(good == (faults.n == 0), "%zu faults", faults.n);
    const bool few = vary.n <= MOST_POINTS && fuzz_mix(data, size) % 16 == 0;
    if (good && is_taken(argument, &vary)) {
        good = brv_vary_measure(&vary, &faults);
        fuzz_require(good == (faults.n == 0), "%zu faults", faults.n);
        if (good) check_values(&vary);
    }
    check_faults(argument, &faults);
    if (few) check_points(argument);
    brv_faults_free(&faults);
    free(argument);
}
