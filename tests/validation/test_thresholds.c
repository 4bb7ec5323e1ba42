/* Published thresholds of signs and grains, predicted with inputs that were laid down before (thresholds.csv, whose head
 * says which). Every row is printed, whatever comes out; what was to be reached is recorded and fails no test, because
 * people, animals and papers are not equations: docs/validation.md shows it.
 * With BREVIS_THRESHOLDS set to a file name the predictions are appended to it as comma-separated values.            */
#include "base/constants.h"
#include "run/site.h"
#include "support/check.h"
#include "support/sample.h"
#include "support/table.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { N_ROW = 32, N_DIAMETER = 3, N_SPREAD = 3, MIDDLE = 1, NAME_SIZE = 64 };

static const double diameters[N_DIAMETER] = {0.13e-6, 0.3e-6, 0.6e-6}; /* [m] */
static const double spreads[N_SPREAD] = {0.5, 0.7, 0.9};
static const double water_conductivity = 0.62, water_density = 993.0, water_heat_capacity = 4178.0;

#define CLEAR      1e-2  /* absorption of the water around a grain alone: none that counts [1/m] */
#define AFTERWARDS 10e-3 /* [s] */
#define ANIMALS    3.0   /* factor within which the middle was to lie */
#define GRAINS     1.5   /* the same for grains alone */
#define ANY        1e3   /* fluence; thresholds do not depend on it [J/m2] */

struct prediction {
    double low, middle, high, published; /* [J/cm2]; low NAN: not predicted */
    char row[NAME_SIZE], paper[NAME_SIZE], group[NAME_SIZE], rank[NAME_SIZE], source[NAME_SIZE];
};

struct predictions {
    size_t n;
    struct prediction one[N_ROW];
};

/* ---- the scenario of a row ---- */

static bool is(const struct table_row *row, const char *column, const char *text)
{
    return !strcmp(table_text(row, column), text);
}

/* Absorption of a grain: a number, or the formula that is named [1/m]. */
static double absorption_of(const struct table_row *row)
{
    const double law = pow(table_number(row, "wavelength_nm"), -3.48);
    if (is(row, "absorption_1_cm", "retina")) return 100.0 * 6.49e12 * law;
    if (is(row, "absorption_1_cm", "skin")) return 100.0 * 1.70e12 * law;
    return 100.0 * table_number(row, "absorption_1_cm");
}

/* A grain in water that light passes through as it came. */
static void lay_alone(struct brv_scenario *ask, const struct table_row *row)
{
    struct brv_skin *skin = &ask->skin[BRV_NEIGHBOUR];
    *skin = (struct brv_skin){.n_layer = 1, .grain = {.layer = -1}};
    struct brv_layer_ask *water = &skin->layer[0];
    water->kind = BRV_DERMIS;
    sample_give(water, BRV_SCOPE_LAYER, "kind");
    sample_set(ask, BRV_SCOPE_LAYER, 0, "absorption", CLEAR);
    sample_set(ask, BRV_SCOPE_LAYER, 0, "scattering", 0.0);
    sample_set(ask, BRV_SCOPE_LAYER, 0, "index", 1.0);
    sample_set(ask, BRV_SCOPE_LAYER, 0, "conductivity", water_conductivity);
    sample_set(ask, BRV_SCOPE_LAYER, 0, "density", water_density);
    sample_set(ask, BRV_SCOPE_LAYER, 0, "heat_capacity", water_heat_capacity);
    sample_set(ask, BRV_SCOPE_GRAIN, 0, "absorption", absorption_of(row));
    sample_set(ask, BRV_SCOPE_SURFACE, 0, "index", 1.0);
    sample_set(ask, BRV_SCOPE_SURFACE, 0, "temperature", 20.0 + BRV_ZERO_C);
    sample_set(ask, BRV_SCOPE_SURFACE, 0, "core", 20.0 + BRV_ZERO_C);
}

#define LIGHTEST 0.013 /* of the epidermis: where the range of light skin ends [1] */
#define OF_LIGHT 0.038 /* what the ready light skin has [1] */
#define FIRST    0.05  /* of the grains by number */

static void lay_skin(struct brv_scenario *ask, const struct table_row *row)
{
    struct brv_skin *skin = &ask->skin[BRV_NEIGHBOUR];
    brv_skin_preset(skin, is(row, "skin", "dark") ? BRV_DARK_SKIN : BRV_LIGHT_SKIN);
    if (!is(row, "skin", "lightest")) return;
    for (size_t i = 0; i < skin->n_layer; i++) skin->layer[i].melanosomes *= LIGHTEST / OF_LIGHT;
}

static struct brv_scenario question(const struct table_row *row)
{
    struct brv_scenario ask;
    memset(&ask, 0, sizeof ask);
    ask.skin[0].grain.layer = ask.skin[1].grain.layer = -1;
    const bool spot = !table_blank(row, "spot_mm");
    const double pulse = table_number(row, "pulse_s"), wavelength = 1e-9 * table_number(row, "wavelength_nm");
    sample_set(&ask, BRV_SCOPE_LIGHT, 0, "wavelength",
               fmin(wavelength, 1100e-9)); /* counts for nothing in clear water */
    sample_set(&ask, BRV_SCOPE_LIGHT, 0, "spot", spot ? 1e-3 * table_number(row, "spot_mm") : 10e-3);
    sample_set(&ask, BRV_SCOPE_LIGHT, 0, "fluence", ANY);
    ask.beam.method = spot ? BRV_METHOD_SPOT : BRV_METHOD_LAYERED;
    sample_give(&ask.beam, BRV_SCOPE_LIGHT, "method");
    sample_set(&ask, BRV_SCOPE_PULSE, 0, "pulse", pulse);
    sample_set(&ask, BRV_SCOPE_WATCH, 0, "until", AFTERWARDS + 10.0 * pulse);
    if (is(row, "skin", "alone"))
        lay_alone(&ask, row);
    else
        lay_skin(&ask, row);
    return ask;
}

static void solve(struct brv_site *site, struct brv_scenario ask, const struct table_row *row)
{
    struct brv_error error = {.place = ""};
    brv_scenario_fill(&ask);
    if (brv_scenario_check(&ask, &error, 1)) table_fail(row, error.place, "refused");
    if (brv_site_solve(site, &ask, is(row, "skin", "lesion") ? BRV_LESION : BRV_NEIGHBOUR, BRV_VALUES_ONLY, NULL,
                       &error))
        table_fail(row, error.place, "not solved");
}

/* ---- low, middle, high ---- */

static void widen(struct prediction *prediction, double threshold)
{
    prediction->low = fmin(prediction->low, 1e-4 * threshold); /* fmin and fmax pass over NAN: no sign at all */
    prediction->high = fmax(prediction->high, 1e-4 * threshold);
}

static void predict_grain(struct prediction *prediction, const struct table_row *row)
{
    for (size_t d = 0; d < N_DIAMETER; d++) {
        struct brv_scenario ask = question(row);
        struct brv_site site;
        sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter", diameters[d]);
        solve(&site, ask, row);
        for (size_t c = 0; c < BRV_N_CRITERION; c++) widen(prediction, site.effect.threshold[c].value);
        if (d == MIDDLE) prediction->middle = 1e-4 * site.effect.threshold[MIDDLE].value;
        brv_site_free(&site);
    }
}

/* Fluence at which a share of the grains is disrupted, between two of the curve's, and NAN where it is never [J/m2]. */
static double fluence_of(const struct brv_crowd_effect *crowd, double share)
{
    for (size_t i = 1; i < BRV_N_FLUENCE; i++) {
        const double below = crowd->curve[i - 1].share.number, above = crowd->curve[i].share.number;
        if (above < share) continue;
        const double part = (share - below) / (above - below);
        return pow(brv_effect_fluence(i - 1), 1.0 - part) * pow(brv_effect_fluence(i), part);
    }
    return (double)NAN;
}

static void take(struct prediction *prediction, const struct brv_crowd_effect *crowd, bool first, bool middle)
{
    const double threshold = first ? fluence_of(crowd, FIRST) : crowd->threshold_sign.value;
    widen(prediction, threshold);
    if (middle) prediction->middle = 1e-4 * threshold;
    if (first) return;
    widen(prediction, crowd->threshold_sign.low); /* the column's own spread comes with every answer */
    widen(prediction, crowd->threshold_sign.high);
}

static void predict_crowd(struct prediction *prediction, const struct table_row *row, bool first)
{
    for (size_t i = 0; i < N_DIAMETER * N_SPREAD * BRV_N_CRITERION; i++) {
        const size_t d = i % N_DIAMETER, s = i / N_DIAMETER % N_SPREAD, c = i / (N_DIAMETER * N_SPREAD);
        struct brv_scenario ask = question(row);
        struct brv_site site;
        sample_set(&ask, BRV_SCOPE_GRAIN, 0, "diameter", diameters[d]);
        sample_set(&ask, BRV_SCOPE_GRAIN, 0, "darkness_spread", spreads[s]);
        sample_set(&ask, BRV_SCOPE_WATCH, 0, "criterion", brv_criteria[c].temperature);
        solve(&site, ask, row);
        take(prediction, &site.effect.crowd, first, d == MIDDLE && s == MIDDLE && c == MIDDLE);
        brv_site_free(&site);
    }
}

static bool within_factor(const struct prediction *prediction, double factor)
{
    return fabs(log(prediction->middle / prediction->published)) <= log(factor);
}

/* What was to be reached, in a word: within a factor, or between low and high. */
static const char *judged(const struct prediction *prediction)
{
    const char *group = prediction->group;
    bool in = false;
    if (isnan(prediction->low)) return "";
    if (!strcmp(group, "guinea pig"))
        in = within_factor(prediction, ANIMALS);
    else if (!strcmp(group, "grains alone"))
        in = within_factor(prediction, GRAINS);
    else if (!strcmp(group, "human"))
        in = prediction->low <= prediction->published && prediction->published <= prediction->high;
    else
        return "not judged";
    return in ? "reached" : "**outside**";
}

static void write_csv(const struct prediction *prediction, const struct table_row *row)
{
    const char *path = getenv("BREVIS_THRESHOLDS");
    FILE *file = path ? fopen(path, "a") : NULL;
    if (!file) return;
    fprintf(file, "%s,\"%s\",\"%s\",%.4g,", prediction->row, prediction->paper, prediction->group,
            prediction->published);
    if (isnan(prediction->low))
        fputs(",,,,", file);
    else
        fprintf(file, "%.4g,%.4g,%.4g,%.3g,", prediction->low, prediction->middle, prediction->high,
                prediction->middle / prediction->published);
    fprintf(file, "%s,%s,%s,%s,%s\n", table_text(row, "what"), prediction->source, table_text(row, "seen"),
            judged(prediction), table_text(row, "note"));
    fclose(file);
}

static void visit(const struct table_row *row, void *context)
{
    struct predictions *all = context;
    if (all->n == N_ROW) table_fail(row, "more rows than expected", "");
    struct prediction *prediction = &all->one[all->n++];
    *prediction = (struct prediction){.low = (double)NAN, .middle = (double)NAN, .high = (double)NAN};
    prediction->published = table_number(row, "published_J_cm2");
    snprintf(prediction->row, NAME_SIZE, "%s", table_text(row, "row"));
    snprintf(prediction->paper, NAME_SIZE, "%s", table_text(row, "paper"));
    snprintf(prediction->group, NAME_SIZE, "%s", table_text(row, "group"));
    snprintf(prediction->rank, NAME_SIZE, "%s", table_text(row, "rank"));
    snprintf(prediction->source, NAME_SIZE, "%s", table_text(row, "source"));
    if (is(row, "what", "grain")) predict_grain(prediction, row);
    if (is(row, "what", "sign")) predict_crowd(prediction, row, false);
    if (is(row, "what", "first")) predict_crowd(prediction, row, true);
    write_csv(prediction, row);
}

/* ---- what was to be reached ---- */

/* Within a factor: a difference of logarithms. */
static void hold_factor(const struct prediction *prediction, double factor)
{
    char what[2 * NAME_SIZE + 40], source[NAME_SIZE + 12], reason[60];
    snprintf(what, sizeof what, "%s %s: log10 of predicted / published", prediction->row, prediction->paper);
    snprintf(source, sizeof source, "%s (abstract)", prediction->source);
    snprintf(reason, sizeof reason, "a factor of %.3g, set before", factor);
    compare_row(what, source, log10(prediction->middle / prediction->published), 0.0, log10(factor), reason);
}

/* Between low and high: the distance from the middle of both, in logarithms. */
static void hold_range(const struct prediction *prediction)
{
    char what[2 * NAME_SIZE + 40], source[NAME_SIZE + 12];
    const double low = log10(prediction->low), high = log10(prediction->high);
    snprintf(what, sizeof what, "%s %s: log10 of published between low and high", prediction->row, prediction->paper);
    snprintf(source, sizeof source, "%s (abstract)", prediction->source);
    compare_row(what, source, log10(prediction->published), 0.5 * (low + high), 0.5 * (high - low),
                "low to high of the prediction");
}

/* Pairs of one paper whose predictions stand the other way round than its values. */
static void hold_order(const struct predictions *all, const char *rank, const char *source)
{
    char what[NAME_SIZE + 60];
    double wrong = 0.0;
    size_t pairs = 0;
    for (size_t i = 0; i < all->n; i++)
        for (size_t j = 0; j < i; j++) {
            const struct prediction *a = &all->one[i], *b = &all->one[j];
            if (strcmp(a->rank, rank) || strcmp(b->rank, rank)) continue;
            pairs++;
            wrong += (a->middle - b->middle) * (a->published - b->published) <= 0.0 ? 1.0 : 0.0;
        }
    assert_true(pairs > 0);
    snprintf(what, sizeof what, "%s: pairs of thresholds in the wrong order, of %zu", rank, pairs);
    compare_row(what, source, wrong, 0.0, 0.0, "order within one paper");
}

static void published_thresholds_are_predicted(void **state)
{
    (void)state;
    static const char *const ranks[][2] = {
        {"anderson", "anderson-1989 (abstract)"},
        {"dover", "dover-1989 (abstract)"},
        {"hruza", "hruza-1991 (abstract)"},
        {"schmidt-2014", "schmidt-2014 (abstract)"},
        {"shimojo", "shimojo-2024 (seen in a digest)"},
        {"explant", "explant-2009 (abstract)"},
        {"cells", "kelly-1997 (memory)"},
    };
    static struct predictions all;
    assert_int_equal(table_each("tests/validation/thresholds.csv", visit, &all), N_ROW);
    for (size_t i = 0; i < all.n; i++) {
        const struct prediction *one = &all.one[i];
        if (isnan(one->low)) continue;
        assert_true(one->low > 0.0 && one->low <= one->middle && one->middle <= one->high);
        if (!strcmp(one->group, "guinea pig")) hold_factor(one, ANIMALS);
        if (!strcmp(one->group, "grains alone")) hold_factor(one, GRAINS);
        if (!strcmp(one->group, "human")) hold_range(one);
    }
    for (size_t i = 0; i < sizeof ranks / sizeof *ranks; i++) hold_order(&all, ranks[i][0], ranks[i][1]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(published_thresholds_are_predicted)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
