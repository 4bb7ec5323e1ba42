/* No number of a run moves unseen: nine scenarios against tests/property/unmoved.csv. What is kept there says nothing of
 * what is right, the other tests do; it says that a change of the model has changed a number, however little.
 *     build/tests/property/test_unmoved --update     writes the table anew; read what changed, and say why
 * Of a curve one sum is kept, with weights that differ, so that a row that moves is seen too.                        */
#include "run/run.h"
#include "scenario/request.h"
#include "support/check.h"
#include "support/table.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* gcc -O2 and clang -O1 agree to 1e-12; another library of mathematics may differ in the last digit of each step, hence a
 * hundred times that.                                                                                              */
#define TOLERANCE 1e-10

enum { MOST_NUMBERS = 6000, NAME_SIZE = 96, PATH_SIZE = 512, MOST_SET = 3 };

static const struct {
    const char *file, *set[MOST_SET];
} kept[] = {
    {"hand_532nm", {NULL}},
    {"cheek_1064nm", {"light.pulse=2 ms"}},
    {"deeper_pigment_1064nm", {"light.method=layered"}},
    {"film_soot_1064nm", {NULL}},
    {"poikiloderma_532nm", {"light.shape=square", "light.pulse=100 us"}},
    {"lesson/03_one_pulse_of_ten", {"light.profile=gaussian", "light.spot=1 mm"}},
    {"lesson/05_ten_a_second", {NULL}},
    {"lesson/08_cold_plate", {"light.count=4", "light.wavelength=755 nm"}},
    {"hand_532nm", {"light.method=sampled", "light.photons=3000", "light.spot=2 mm"}},
};

enum { N_KEPT = sizeof kept / sizeof *kept };

static struct number {
    char name[NAME_SIZE];
    double value, size; /* what a difference is measured by */
} numbers[MOST_NUMBERS];

static size_t n_numbers;
static char where[NAME_SIZE / 2];

static void note_sized(const char *what, const char *part, double value, double size)
{
    assert_true(n_numbers < MOST_NUMBERS);
    struct number *one = &numbers[n_numbers++];
    snprintf(one->name, sizeof one->name, "%s %s%s", where, what, part);
    one->value = value;
    one->size = size;
}

static void note(const char *what, double value)
{
    note_sized(what, "", value, fabs(value));
}

static void note_curve(const char *what, const double x[], size_t n)
{
    double sum = 0.0, size = 0.0;
    for (size_t i = 0; i < n; i++) {
        const double weight = 1.0 + (double)(i + 1) / (double)n;
        sum += weight * x[i];
        size += weight * fabs(x[i]);
    }
    note_sized(what, "", sum, size);
}

static void note_curves(const char *what, const double x[], size_t n_curve, size_t n)
{
    char name[NAME_SIZE / 2];
    for (size_t i = 0; i < n_curve; i++) {
        snprintf(name, sizeof name, "%s %zu", what, i);
        if (n == 1)
            note(name, x[i]);
        else
            note_curve(name, x + i * n, n);
    }
}

static void note_spreads(const char *what, const struct brv_spread x[], size_t n)
{
    char name[NAME_SIZE / 2];
    for (size_t i = 0; i < n; i++) {
        snprintf(name, sizeof name, "%s %zu", what, i);
        note(name, x[i].value);
        if (x[i].low != x[i].high) note_sized(name, " low + high", x[i].low + x[i].high, fabs(x[i].high));
    }
}

static void note_light(const struct brv_light *light)
{
    note("specular", light->layered.reflected_specular);
    note("reflected", light->layered.reflected_diffuse);
    note("transmitted", light->layered.transmitted);
    note_curves("absorbed", light->layered.absorbed, light->layered.n_medium, 1);
    note_curves("mean fluence", light->mean_fluence, light->n_layer, 1);
    note_curve("map depth", light->map_depth, light->n_map_depth);
    note_curve("map radius", light->map_radius, light->n_map_radius);
    note_curve("map", light->map, light->n_map_depth * light->n_map_radius);
    if (light->sensitivity.solved) note_curves("sensitivity", light->sensitivity.at[0], 2, BRV_N_ANSWER);
}

static void note_field(const struct brv_field *field)
{
    const size_t n = field->n_depth * field->n_radius;
    if (n == 0) return;
    note_curve("field depth", field->depth, field->n_depth);
    note_curve("field radius", field->radius, field->n_radius);
    for (size_t k = 0; k < 2; k++)
        if (!isnan(field->time[k])) note_curve(k ? "field later" : "field", field->rise[k], n);
}

static void note_history(const struct brv_history *history)
{
    note_curve("time", history->time, history->n_time);
    note_curve("start", history->start, history->n_probe);
    note_curves("rise", history->rise, history->n_probe, history->n_time);
    note_curve("pigment", history->pigment, history->n_probe * history->n_time);
    note_curves("excess", history->excess, 3, history->n_time);
    if (history->cooled) note_curve("cooled", history->cooled, history->n_probe * history->n_time);
    if (history->from_film) note_curve("from film", history->from_film, history->n_probe * history->n_time);
    note_curve("face", history->face, history->n_cell + 1);
    note_curve("heat", history->absorbed, history->n_cell);
    note_curve("peak", history->peak, history->n_cell);
    note_curve("radius", history->radius, history->n_radius);
    note_curve("profile", history->profile, history->n_profile * history->n_radius);
    note_field(&history->field);
}

static void note_effect(const struct brv_effect *effect, size_t n_probe)
{
    note("adiabatic", effect->adiabatic_rise);
    note("held", effect->held);
    note_curves("fall to half", effect->fall_half, 3, 1);
    note_curves("fall to 1/e", effect->fall_efold, 3, 1);
    note_spreads("highest", effect->peak, n_probe);
    note_curves("highest at", effect->peak_time, n_probe, 1);
    note_spreads("hottest", effect->hottest, n_probe);
    note_spreads("threshold", effect->threshold, BRV_N_CRITERION);
    note_spreads("threshold asked", &effect->threshold_grain, 1);
    note_spreads("threshold of a sign", &effect->crowd.threshold_sign, 1);
    note("column", effect->crowd.column);
    note("disrupted", effect->crowd.here.column);
    note_spreads("pressure", &effect->pressure.value, 1);
    note_spreads("blood", &effect->vessel.rise, effect->vessel.there);
    note_spreads("film", &effect->film.peak, effect->film.there);
    note("sideways", effect->sideways);
    note("warm", effect->warm);
    note_spreads("damage", &effect->damage, 1);
    note("coldest", effect->coldest);
}

static void note_result(const struct brv_result *result, size_t i)
{
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const struct brv_site *one = &result->site[site];
        snprintf(where, sizeof where, "%zu %s", i + 1, site == BRV_LESION ? "lesion" : "neighbour");
        if (site == BRV_LESION) {
            note_light(&one->light);
            note_history(&one->history);
        }
        note_effect(&one->effect, one->history.n_probe);
    }
    if (result->tan.factor > 1.0) note("tan", result->tan.threshold_sign.value);
    if (result->bare[0].there) note("bare", result->bare[0].fluence);
}

static void solve(size_t i)
{
    struct brv_request request;
    struct brv_faults faults = {0};
    struct brv_error error = {0};
    struct brv_result result;
    char path[PATH_SIZE];
    size_t n_set = 0;
    while (n_set < MOST_SET && kept[i].set[n_set]) n_set++;
    snprintf(path, sizeof path, "%s/scenarios/%s.yaml", BRV_DATA, kept[i].file);
    assert_int_equal(brv_request_read(&request, path, kept[i].set, n_set, &faults), 0);
    brv_faults_free(&faults);
    assert_int_equal(brv_run_solve(&result, &request.scenario, NULL, &error), BRV_OK);
    note_result(&result, i);
    brv_run_free(&result);
}

static const char *table_path(void)
{
    return BRV_DATA "/tests/property/unmoved.csv";
}

static bool alike(const struct number *found, double expected)
{
    if (isnan(expected) || isinf(expected)) return isnan(expected) ? isnan(found->value) : found->value == expected;
    return fabs(found->value - expected) <= TOLERANCE * fmax(found->size, fabs(expected));
}

struct progress {
    size_t i, moved;
};

static void compare(const struct table_row *row, void *context)
{
    struct progress *at = context;
    if (at->i == n_numbers) table_fail(row, "is of no number that is solved now", table_text(row, "number"));
    const struct number *one = &numbers[at->i++];
    if (strcmp(one->name, table_text(row, "number"))) table_fail(row, "is not the next number", one->name);
    const double expected = strtod(table_text(row, "value"), NULL); /* which may be nan */
    if (alike(one, expected)) return;
    if (at->moved++ < 10) print_error("%s: %.17g for %.17g\n", one->name, one->value, expected);
}

static void no_number_has_moved(void **state)
{
    (void)state;
    struct progress at = {0, 0};
    for (size_t i = 0; i < N_KEPT; i++) solve(i);
    assert_int_equal(table_each(table_path(), compare, &at), n_numbers);
    if (at.moved) fail_msg("%zu of %zu numbers have moved; meant so? --update", at.moved, n_numbers);
}

static int update(void)
{
    for (size_t i = 0; i < N_KEPT; i++) solve(i);
    FILE *file = fopen(table_path(), "w");
    if (!file) {
        perror(table_path());
        return EXIT_FAILURE;
    }
    fputs("# What the model gives, to see what moves; written by test_unmoved --update, and no source for anything.\n"
          "number,value\n",
          file);
    for (size_t i = 0; i < n_numbers; i++)
        fprintf(file, "%s,%.13g\n", numbers[i].name, isnan(numbers[i].value) ? (double)NAN : numbers[i].value);
    return fclose(file) ? EXIT_FAILURE : EXIT_SUCCESS;
}

int main(int argc, char *argv[])
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(no_number_has_moved)};
    if (argc == 2 && !strcmp(argv[1], "--update")) return update();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
