/* What must hold for any scenario, asked of one part at a time: text and units, the check, the light without
 * scattering, the heat of the layers after the pulse, the grain. test_property.c runs whole sites.
 * BREVIS_SEED=n repeats or varies the scenarios; a failure prints the scenario as a file.                        */
#include "heat/slab.h"
#include "heat/sphere.h"
#include "heat/stepper.h"
#include "light/light.h"
#include "report/hash.h"
#include "scenario/request.h"
#include "support/check.h"
#include "support/random.h"

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { N_CASE = 200, N_SPOILT = 5000, MOST_CELLS = 20000, MOST_FAULTS = 64 };

static size_t site_of(const struct random_case *one)
{
    return one->number % BRV_N_SITE;
}

static void for_all(void (*check)(const struct random_case *one))
{
    print_message("BREVIS_SEED=%lu, %d scenarios\n", random_seed(), N_CASE);
    for (size_t i = 0; i < N_CASE; i++) {
        const struct random_case one = random_case_draw(i);
        check(&one);
    }
}

/* ---- units ---- */

static struct brv_request read_in_units(const struct random_case *one, int units)
{
    struct brv_request request;
    struct brv_faults faults = {0};
    char path[] = "/tmp/brevis_property_XXXXXX";
    FILE *file = fdopen(mkstemp(path), "w");
    assert_non_null(file);
    random_write(file, &one->drawn, units);
    fclose(file);
    const int code = brv_request_read(&request, path, NULL, 0, &faults);
    unlink(path);
    if (faults.n) print_error("%s\n", faults.fault[0].text);
    brv_faults_free(&faults);
    random_case_hold(one, code == 0, "read from text", code, 0.0);
    return request;
}

/* All numbers are the same bits: the point is moved in the text, so each unit stands for the same decimal number, and
 * the reader promises the double nearest to it. Only degC adds a rounding: one part in 2^52, taken twice.         */
static void check_same_numbers(const struct random_case *one, struct brv_scenario *a, struct brv_scenario *b)
{
    for (size_t key = 0; key < brv_n_keys; key++) {
        const enum brv_key_kind kind = brv_keys[key].kind;
        if (kind == BRV_WORD || kind == BRV_LAYER_REF || kind == BRV_LIST) continue;
        for (size_t place = 0; place < BRV_N_SITE * a->skin[0].n_layer; place++) {
            const size_t site = place % BRV_N_SITE, layer = place / BRV_N_SITE;
            double x, y;
            memcpy(&x, (char *)brv_key_scope(a, brv_keys[key].scope, site, layer) + brv_keys[key].offset, sizeof x);
            memcpy(&y, (char *)brv_key_scope(b, brv_keys[key].scope, site, layer) + brv_keys[key].offset, sizeof y);
            const double loose = brv_keys[key].dimension == BRV_TEMPERATURE ? 2.0 * DBL_EPSILON * fabs(x) : 0.0;
            random_case_hold(one, x == y || fabs(x - y) <= loose, brv_keys[key].name, x, y);
        }
    }
    for (size_t i = 0; i < a->watch.n_depth; i++)
        random_case_hold(one, a->watch.depth[i] == b->watch.depth[i], "depths", a->watch.depth[i], b->watch.depth[i]);
}

static void check_units(const struct random_case *one)
{
    struct brv_request si = read_in_units(one, 0), everyday = read_in_units(one, 1);
    struct brv_scenario drawn = one->ask;
    char a[BRV_HASH_SIZE], b[BRV_HASH_SIZE], c[BRV_HASH_SIZE];
    check_same_numbers(one, &si.scenario, &everyday.scenario);
    check_same_numbers(one, &si.scenario, &drawn);
    brv_hash_scenario(a, &si.scenario);
    brv_hash_scenario(b, &everyday.scenario);
    brv_hash_scenario(c, &drawn);
    random_case_hold(one, !strcmp(a, b), "hash in other units", 0.0, 0.0);
    random_case_hold(one, !strcmp(a, c), "hash of the text and of the numbers", 0.0, 0.0);
}

static void other_units_same_numbers(void **state)
{
    (void)state;
    for_all(check_units);
}

/* ---- the check ---- */

static void spoilt_scenarios_are_refused(void **state)
{
    (void)state;
    for (size_t i = 0; i < N_SPOILT; i++) {
        struct random_case one = {.seed = random_seed(), .number = i};
        struct brv_error fault[MOST_FAULTS];
        gsl_rng *random = random_stream(one.seed, i);
        one.drawn = random_scenario(random);
        one.ask = one.drawn;
        random_spoil(random, &one.ask);
        gsl_rng_free(random);
        brv_scenario_fill(&one.ask);
        const size_t n = brv_scenario_check(&one.ask, fault, MOST_FAULTS);
        random_case_hold(&one, n > 0, "a spoilt scenario is refused (this is the sound one)", (double)n, 1.0);
        assert_int_equal(brv_scenario_check(&one.ask, fault, 0), n); /* without room the count is the same */
    }
}

/* ---- light without scattering ---- */

/* Fluxes of a beam straight down through clear plates, mirrored at every step of the index to all orders; the way of
 * the textbook: from the bottom up what lies below reflects, from the top down what arrives.                      */
struct plates {
    size_t n;
    double mirror[BRV_MOST_LAYERS + 1];                /* of the upper face of each plate, then of the bottom */
    double passes[BRV_MOST_LAYERS];                    /* once through each */
    double down[BRV_MOST_LAYERS], up[BRV_MOST_LAYERS]; /* below the upper face; above the lower face */
};

static double mirror(double one, double other)
{
    return (one - other) * (one - other) / ((one + other) * (one + other));
}

static struct plates beer(const struct brv_tissue *tissue)
{
    struct plates p = {.n = tissue->n_layer};
    double below[BRV_MOST_LAYERS + 1], index = tissue->outside_index;
    for (size_t i = 0; i < p.n; i++) {
        p.mirror[i] = mirror(index, tissue->layer[i].index);
        p.passes[i] = exp(-tissue->layer[i].absorption * tissue->layer[i].thickness);
        index = tissue->layer[i].index;
    }
    const bool endless = isinf(tissue->layer[p.n - 1].thickness);
    p.mirror[p.n] = endless ? 0.0 : mirror(index, tissue->below_index);
    below[p.n] = p.mirror[p.n];
    for (size_t i = p.n; i-- > 0;) {
        const double seen = p.passes[i] * p.passes[i] * below[i + 1], r = p.mirror[i];
        below[i] = r + (1.0 - r) * (1.0 - r) * seen / (1.0 - r * seen);
    }
    double arriving = 1.0;
    for (size_t i = 0; i < p.n; i++) {
        p.down[i] = arriving * (1.0 - p.mirror[i]) / (1.0 - p.mirror[i] * p.passes[i] * p.passes[i] * below[i + 1]);
        arriving = p.down[i] * p.passes[i];
        p.up[i] = arriving * below[i + 1];
    }
    return p;
}

/* `loose` bounds the light that scattering moves; the rest are roundings of a product of exponentials. */
static void check_beer(const struct random_case *one, const struct brv_tissue *tissue, double loose)
{
    struct brv_light light;
    struct brv_error error = {.place = ""};
    const struct plates p = beer(tissue);
    random_case_hold(one, !brv_light_solve(&light, tissue, &one->ask.beam, NULL, &error), error.place, error.found,
                     error.most);
    for (size_t i = 0; i < p.n; i++)
        for (int k = 0; k < 4; k++) {
            const struct brv_layer *layer = &tissue->layer[i];
            const double deep = fmin(layer->thickness, 5.0 / layer->absorption);
            const double into = deep * (k + 0.5) / 4.0, left = layer->thickness - into;
            const double expected = p.down[i] * exp(-layer->absorption * into) +
                                    (isinf(left) ? 0.0 : p.up[i] * exp(-layer->absorption * left));
            const double found = brv_light_fluence(&light, light.top[i] + into);
            /* depths are sums over the layers above: their rounding times the absorption */
            const double rounding = 1e-12 + 8.0 * DBL_EPSILON * layer->absorption * (light.top[i] + into);
            random_case_hold(one, fabs(found - expected) <= loose + rounding, "Beer's law", found, expected);
        }
    brv_light_free(&light);
}

static void check_clear(const struct random_case *one)
{
    struct brv_tissue tissue;
    brv_tissue_resolve(&tissue, &one->ask, site_of(one));
    for (size_t i = 0; i < tissue.n_layer; i++) {
        tissue.layer[i].scattering = 0.0;
        tissue.layer[i].absorption = fmax(tissue.layer[i].absorption, 1e-2); /* thicker than nothing */
    }
    check_beer(one, &tissue, 0.0);
    for (size_t i = 0; i < tissue.n_layer; i++) tissue.layer[i].scattering = 1e-6 * tissue.layer[i].absorption;
    /* a millionth of what is absorbed is scattered instead; light caught by total reflection in a clear layer passes a
     * place many times, so twenty times that: what is lost in n^2 and in four layers */
    check_beer(one, &tissue, 2e-5);
}

static void without_scattering_beers_law(void **state)
{
    (void)state;
    for_all(check_clear);
}

/* ---- layers after the pulse ---- */

/* Coarser than a run, so that every scenario can be asked: what is asked holds on any cells. */
static void build_layers(struct brv_slab *slab, const struct brv_tissue *tissue)
{
    struct brv_slab_layer layer[BRV_MOST_LAYERS];
    const struct brv_slab_grid grid = {.finest = 0.5e-6, .growth = 0.2, .most = INFINITY};
    for (size_t i = 0; i < tissue->n_layer; i++)
        layer[i] = (struct brv_slab_layer){fmin(tissue->layer[i].thickness, 0.02), tissue->layer[i].conductivity,
                                           tissue->layer[i].heat_capacity, tissue->layer[i].perfusion};
    assert_int_equal(brv_slab_build(slab, layer, tissue->n_layer, &grid, 0.0, 0.0, NULL), BRV_OK);
}

static double highest(const struct brv_chain *chain)
{
    double most = -INFINITY;
    for (size_t i = 0; i < chain->n; i++) most = fmax(most, chain->rise[i]);
    return most;
}

static double lowest(const struct brv_chain *chain)
{
    double least = INFINITY;
    for (size_t i = 0; i < chain->n; i++) least = fmin(least, chain->rise[i]);
    return least;
}

/* The light's own rounding, as a share of the incident flux of 1. */
#define ROUNDED_FLUX 1e-14
#define DARK         1e3 /* times that, and heat is worth watching */

static double least_capacity(const struct brv_chain *chain)
{
    double least = INFINITY;
    for (size_t i = 0; i < chain->n; i++) least = fmin(least, chain->capacity[i]);
    return least;
}

/* All heat at once, then thirty looks over ten decades of time. With insulated ends and perfusion that only takes, the
 * highest cell cannot rise and no cell can fall below zero. Each step may err by the tolerance times the largest rise,
 * as in a run (1e-6); between two looks that is a few hundred steps of one sign at the very worst, in practice one. */
static void check_cooling_layers(const struct random_case *one)
{
    const double tolerance = 1e-6;
    static const struct brv_source none = {0};
    struct brv_tissue tissue;
    struct brv_light light;
    struct brv_slab slab;
    struct brv_stepper stepper;
    struct brv_error error = {.place = ""};
    brv_tissue_resolve(&tissue, &one->ask, site_of(one));
    random_case_hold(one, !brv_light_solve(&light, &tissue, &one->ask.beam, NULL, &error), error.place, error.found,
                     error.most);
    build_layers(&slab, &tissue);
    assert_int_equal(brv_stepper_build(&stepper, slab.chain.n, NULL), BRV_OK);
    for (size_t i = 0; i < slab.chain.n; i++)
        slab.chain.rise[i] = brv_light_absorbed(&light, slab.face[i], slab.face[i + 1]) / slab.chain.capacity[i];

    const double start = highest(&slab.chain);
    double before = start, then = 0.0;
    const double cold = -ROUNDED_FLUX / least_capacity(&slab.chain);
    random_case_hold(one, lowest(&slab.chain) >= cold, "no cell takes light away", lowest(&slab.chain), cold);
    const int looks = start > -DARK * cold ? 30 : 0; /* else there is nothing but rounding to look at */
    for (int look = 0; look < looks; look++) {
        const double now = 1e-8 * pow(10.0, look / 3.0);
        random_case_hold(one, !brv_stepper_advance(&stepper, &slab.chain, &none, then, now, tolerance, &error),
                         error.place, error.found, error.most);
        const double after = highest(&slab.chain);
        random_case_hold(one, after <= before * (1.0 + tolerance), "the highest rise grows", after, before);
        const double below = fmin(-tolerance * start, cold);
        random_case_hold(one, lowest(&slab.chain) >= below, "a rise below zero", lowest(&slab.chain), below);
        before = after;
        then = now;
    }
    brv_stepper_free(&stepper);
    brv_slab_free(&slab);
    brv_light_free(&light);
}

static void layers_only_cool_after_the_pulse(void **state)
{
    (void)state;
    for_all(check_cooling_layers);
}

/* ---- the grain ---- */

/* Cells as in a run, for a pulse that is long beside `shortest`. */
static struct brv_sphere_ask cells_of(const struct brv_grain *grain, double finest, double longest)
{
    const double host = grain->host_conductivity / grain->host_heat_capacity;
    return (struct brv_sphere_ask){.radius = grain->radius,
                                   .cell_radius = grain->cell_radius,
                                   .reach = 2.0 * grain->radius + 6.0 * sqrt(host * longest),
                                   .conductivity = grain->conductivity,
                                   .host_conductivity = grain->host_conductivity,
                                   .heat_capacity = grain->heat_capacity,
                                   .host_heat_capacity = grain->host_heat_capacity,
                                   .finest = finest * grain->radius,
                                   .growth = 0.06,
                                   .most = grain->radius / 40.0};
}

static double delivered(const void *pulse, double time)
{
    return brv_pulse_delivered(pulse, time);
}

enum { MEAN, CENTRE, SURFACE, N_READ };

/* Heats the grain evenly by 1 K in all with `pulse` and reads it `n` times. */
static void heat_grain(const struct random_case *one, const struct brv_sphere_ask *cells, const struct brv_pulse *pulse,
                       const double time[], size_t n, double read[][N_READ])
{
    struct brv_sphere sphere;
    struct brv_stepper stepper;
    struct brv_error error = {.place = ""};
    double deposit[MOST_CELLS] = {0.0}, then = 0.0;
    assert_int_equal(brv_sphere_build(&sphere, cells, NULL), BRV_OK);
    assert_int_equal(brv_stepper_build(&stepper, sphere.chain.n, NULL), BRV_OK);
    assert_true(sphere.chain.n < MOST_CELLS);
    for (size_t i = 0; i < sphere.n_grain; i++) deposit[i] = sphere.chain.capacity[i];
    const struct brv_source source = {deposit, delivered, pulse, brv_pulse_window(pulse), pulse->width / 16.0};
    stepper.least_rise = 1e-3;
    for (size_t i = 0; i < n; i++) {
        random_case_hold(one, !brv_stepper_advance(&stepper, &sphere.chain, &source, then, time[i], 1e-6, &error),
                         error.place, error.found, error.most);
        read[i][MEAN] = brv_sphere_grain_mean(&sphere);
        read[i][CENTRE] = brv_chain_read(&sphere.chain, &sphere.centre);
        read[i][SURFACE] = brv_chain_read(&sphere.chain, &sphere.surface);
        then = time[i];
    }
    brv_stepper_free(&stepper);
    brv_sphere_free(&sphere);
}

static struct brv_grain grain_of(const struct random_case *one)
{
    struct brv_tissue tissue;
    brv_tissue_resolve(&tissue, &one->ask, site_of(one));
    return tissue.grain;
}

/* d^2 / (16 diffusivity) of the quicker of grain and host. */
static double relaxation(const struct brv_grain *grain)
{
    const double quicker =
        fmax(grain->conductivity / grain->heat_capacity, grain->host_conductivity / grain->host_heat_capacity);
    return grain->radius * grain->radius / (4.0 * quicker);
}

static void check_scaled(const struct random_case *one, double s, double tolerance)
{
    const struct brv_grain grain = grain_of(one);
    const double unit = relaxation(&grain);
    struct brv_pulse pulse = one->ask.pulse, longer;
    double time[4], scaled[4], small[4][N_READ], large[4][N_READ];
    pulse.width = unit * (one->number % 2 ? 0.1 : 2.0);
    for (int i = 0; i < 4; i++) {
        time[i] = brv_pulse_window(&pulse) * (i + 0.5);
        scaled[i] = s * s * time[i];
    }
    longer = pulse;
    longer.width *= s * s;
    const struct brv_sphere_ask cells = cells_of(&grain, 1.0 / 60.0, 10.0 * unit);
    struct brv_sphere_ask wider = cells;
    wider.radius *= s;
    wider.cell_radius *= s;
    wider.reach *= s;
    wider.finest *= s;
    wider.most *= s;
    heat_grain(one, &cells, &pulse, time, 4, small);
    heat_grain(one, &wider, &longer, scaled, 4, large);
    for (int i = 0; i < 4; i++)
        for (int k = 0; k < N_READ; k++)
            random_case_hold(one, fabs(large[i][k] - small[i][k]) <= tolerance, "scaled grain", large[i][k],
                             small[i][k]);
}

/* Radius s, time s^2: the equations are the same, so the numbers are. With s = 2 not even rounding differs; with
 * another s rounding may tip a step over its tolerance, and the result then moves by less than that tolerance, 1e-6. */
static void check_scaling(const struct random_case *one)
{
    check_scaled(one, 2.0, 1e-13);
    check_scaled(one, 2.385, 1e-6);
}

static void a_scaled_grain_is_the_same(void **state)
{
    (void)state;
    for_all(check_scaling);
}

/* A pulse of 1/1000 of the relaxation, square or Gaussian with the same centre, then looks at 0.05, 0.3 and 1
 * relaxations. Pulses of one centre differ by their variance: the mean loses heat as c sqrt(t), so it differs by
 * (c / 8) t^-1.5 (variance of one - of the other) < 0.2 c sqrt(t) (width/t)^2 / 8 = 1e-5 at the first look. The rest of
 * 5e-5 is for the error of some hundred steps of 1e-6 each, of which most are of one sign.                        */
static void check_shape(const struct random_case *one)
{
    static const double look[3] = {0.05, 0.3, 1.0};
    const struct brv_grain grain = grain_of(one);
    const double unit = relaxation(&grain);
    double read[2][3][N_READ];
    for (int shape = 0; shape < 2; shape++) {
        const struct brv_pulse pulse = {.shape = shape, .width = 1e-3 * unit};
        const struct brv_sphere_ask cells = cells_of(&grain, 1.0 / 200.0, 2.0 * unit);
        double time[3];
        for (int i = 0; i < 3; i++) time[i] = brv_pulse_centre(&pulse) + look[i] * unit;
        heat_grain(one, &cells, &pulse, time, 3, read[shape]);
    }
    for (int i = 0; i < 3; i++)
        random_case_hold(one, fabs(read[0][i][MEAN] - read[1][i][MEAN]) <= 5e-5, "shape of a short pulse",
                         read[0][i][MEAN], read[1][i][MEAN]);
}

static void short_pulses_have_no_shape(void **state)
{
    (void)state;
    for_all(check_shape);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(other_units_same_numbers),     cmocka_unit_test(spoilt_scenarios_are_refused),
        cmocka_unit_test(without_scattering_beers_law), cmocka_unit_test(layers_only_cool_after_the_pulse),
        cmocka_unit_test(a_scaled_grain_is_the_same),   cmocka_unit_test(short_pulses_have_no_shape)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
