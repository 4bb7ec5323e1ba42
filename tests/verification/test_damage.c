/* Damage by warmth against burn standards: the slab kernel as the standards' three layers of skin under a flux, and the
 * rates alone.                                                                                                     */
#include "effect/damage.h"
#include "effect/effect.h"
#include "heat/slab.h"
#include "heat/stepper.h"
#include "support/check.h"
#include "support/table.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define DATA "tests/verification/data/"

static const struct brv_damage_pair *epidermis(void)
{
    return &brv_damage_pairs[BRV_DAMAGE_STANDARD][BRV_DAMAGE_EPIDERMIS];
}

/* ---- a constant temperature: by hand ---- */

static double log_at(const struct brv_damage_pair *pair, double celsius, double seconds)
{
    const double time[] = {0.0, seconds}, kelvin[] = {celsius + 273.15, celsius + 273.15};
    return brv_damage_log(pair, 2, time, time, kelvin);
}

static void rates_at_constant_temperature(void **state)
{
    (void)state;
    const struct brv_damage_pair *skin = epidermis(), *deep = &brv_damage_pairs[BRV_DAMAGE_STANDARD][BRV_DAMAGE_DERMIS];
    /* a few roundings of exponents of 300 */
    check_close(log_at(skin, 47.0, 10.0), log(10.0 * 2.185) + 124.0 * log(10.0) - 93534.9 / 320.15, 0.0, 1e-4);
    check_close(log_at(skin, 61.0, 2.0), log(2.0 * 1.823) + 51.0 * log(10.0) - 39109.8 / 334.15, 0.0, 1e-4);
    check_close(log_at(deep, 47.0, 10.0), log(10.0 * 4.322) + 64.0 * log(10.0) - 50000.0 / 320.15, 0.0, 1e-4);
    check_close(log_at(deep, 61.0, 2.0), log(2.0 * 9.389) + 104.0 * log(10.0) - 80000.0 / 334.15, 0.0, 1e-4);
    assert_true(isinf(log_at(skin, 43.9, 1e4)) && log_at(skin, 43.9, 1e4) < 0.0);
    /* published times of Omega 1 with the other sets, computed for the reference tables */
    const struct brv_damage_pair *refit = brv_damage_pairs[BRV_DAMAGE_REFIT],
                                 *old = brv_damage_pairs[BRV_DAMAGE_HENRIQUES];
    check_row("burn re-fit: time at 44 C to Omega 1, h", "burn-refit (computed)", exp(-log_at(refit, 44.0, 3600.0)),
              6.5, 0.33, "6.5 h as printed, 5 % for its rounding and that of the pair");
    check_row("burn re-fit: time at 60 C to Omega 1, s", "burn-refit (computed)", exp(-log_at(refit, 60.0, 1.0)), 7.4,
              0.2, "as printed");
    check_row("pair of 1947: time at 44 C to Omega 1, h", "henriques-1947 (computed)", exp(-log_at(old, 44.0, 3600.0)),
              24.0, 1.5, "24 h as printed; its own data say 6 h");
}

/* Of ten seconds at one temperature, the first four after a pulse left out, six are left; before the first pulse none is
 * left out.                                                                                                         */
static void what_lasts_is_a_part(void **state)
{
    (void)state;
    const double time[] = {-5.0, 0.0, 1.0, 4.0, 10.0}, kelvin[] = {320.15, 320.15, 320.15, 320.15, 320.15};
    const double all = brv_damage_log(epidermis(), 5, time, time, kelvin);
    /* rounding of the logarithms */
    check_close(exp(brv_damage_lasting(epidermis(), 5, time, time, kelvin, 4.0) - all), 11.0 / 15.0, 1e-12, 0.0);
    check_close(brv_damage_lasting(epidermis(), 5, time, time, kelvin, 0.0), all, 0.0, 0.0);
    check_close(exp(brv_damage_lasting(epidermis(), 5, time, time, kelvin, 20.0) - all), 5.0 / 15.0, 1e-12, 0.0);
}

/* The standards give the first pair for 44 C to 50 C, both taken in: no damage a hair below, the second a hair above. */
static void ends_of_the_pairs(void **state)
{
    (void)state;
    const struct brv_damage_pair *skin = epidermis();
    const double time[] = {0.0, 10.0}, from[] = {skin->from, skin->from}, change[] = {skin->change, skin->change};
    /* a few roundings of exponents of 300 */
    check_close(brv_damage_log(skin, 2, time, time, from), log(10.0 * 2.185) + 124.0 * log(10.0) - 93534.9 / skin->from,
                0.0, 1e-4);
    check_close(brv_damage_log(skin, 2, time, time, change),
                log(10.0 * 2.185) + 124.0 * log(10.0) - 93534.9 / skin->change, 0.0, 1e-4);
    check_close(skin->from, 317.15, 1e-15, 0.0);
    check_close(skin->change, 323.15, 1e-15, 0.0);
}

/* Each layer of the skin by the rates of its tissue: the standards' dermis serves for dermis and fat, the rest is
 * epidermis. Probes that are a layer's mean, and probes at a depth.                                                */
static void layers_have_rates_of_their_own(void **state)
{
    (void)state;
    static const int kind[] = {BRV_HORNY, BRV_EPIDERMIS, BRV_BASAL, BRV_DERMIS, BRV_FAT};
    double top[] = {0.0, 1.0, 2.0, 3.0, 4.0}, depth[10];
    struct brv_tissue tissue = {.n_layer = 5};
    struct brv_light light = {.n_layer = 5};
    struct brv_history history = {.film = BRV_NO_PROBE, .depth = depth};
    for (size_t i = 0; i < BRV_MOST_MEANS; i++) history.mean[i] = i < 5 ? i : BRV_NO_PROBE;
    for (size_t i = 0; i < 5; i++) {
        tissue.layer[i].kind = kind[i];
        light.top[i] = top[i];
        depth[i] = NAN;
        depth[5 + i] = top[i] + 0.5;
    }
    for (int set = 0; set < BRV_N_DAMAGE; set++)
        for (size_t probe = 0; probe < 10; probe++)
            assert_ptr_equal(brv_effect_rates(&tissue, &light, &history, probe, set),
                             &brv_damage_pairs[set][probe % 5 >= 3 ? BRV_DAMAGE_DERMIS : BRV_DAMAGE_EPIDERMIS]);
}

/* A history so hot that Omega itself would overflow keeps its logarithm, and a sum of two histories is their sum. */
static void logarithms_do_not_overflow(void **state)
{
    (void)state;
    const double time[] = {0.0, 1.0, 2.0}, hot[] = {3000.0, 3000.0, 3000.0};
    const double log_omega = brv_damage_log(&brv_damage_pairs[BRV_DAMAGE_HENRIQUES][0], 3, time, time, hot);
    check_close(log_omega, log(2.0 * 3.1) + 98.0 * log(10.0) - 6.28e5 / 8.314 / 3000.0, 0.0, 1e-4);
    check_close(log_at(epidermis(), 55.0, 3.0),
                log(exp(log_at(epidermis(), 55.0, 1.0)) + exp(log_at(epidermis(), 55.0, 2.0))), 0.0, 1e-12);
}

/* Falling as the logarithm of time, told at ten times and at two: the same. */
static void rows_far_apart_are_joined_in_logarithms(void **state)
{
    (void)state;
    double time[41], kelvin[41];
    for (size_t i = 0; i < 41; i++) {
        time[i] = 1e-3 * pow(10.0, 0.1 * (double)i);
        kelvin[i] = 273.15 + 80.0 - 0.8 * (double)i;
    }
    const double ends[] = {time[0], time[40]}, two[] = {kelvin[0], kelvin[40]};
    const double fine = brv_damage_log(epidermis(), 41, time, time, kelvin);
    check_close(brv_damage_log(epidermis(), 2, ends, ends, two), fine, 0.0, 2e-3); /* pieces of a quarter kelvin */
}

static void equivalent_minutes(void **state)
{
    (void)state;
    const double hour[] = {0.0, 3600.0}, warm[] = {44.0 + 273.15, 44.0 + 273.15},
                 mild[] = {42.0 + 273.15, 42.0 + 273.15};
    const double burnt[] = {44.0 + 273.15, 50.1 + 273.15};
    check_row("CEM43 of 6 h at 44 C, min", "sapareto-1984 (computed)", 6.0 * brv_damage_minutes(2, hour, warm), 720.0,
              1e-6, "by definition");
    check_close(brv_damage_minutes(2, hour, mild), 15.0, 1e-12, 0.0);
    assert_true(isnan(brv_damage_minutes(2, hour, burnt)));
}

/* ---- the standards' skin under a flux ---- */

enum { N_FLUX = 100, PER_DECADE = 20, MOST_ROWS = 400 };

struct burn {
    size_t n;
    double time[MOST_ROWS], since[MOST_ROWS], kelvin[MOST_ROWS];
};

static const double below = 33.5 + 273.15; /* held under the stack */

/* 32.5 C at the surface, straight to 33.5 C at the base, as a rise over the base. It is not a steady profile, and no
 * heat is taken at the surface but the flux given.                                                                  */
static double start_at(double depth)
{
    return -(1.0 - depth / 5085e-6);
}

static double even_share(const void *lasts, double time)
{
    return fmin(fmax(time / *(const double *)lasts, 0.0), 1.0);
}

static void note(struct burn *burn, double time, double since, double kelvin)
{
    assert_true(burn->n < MOST_ROWS);
    burn->time[burn->n] = time;
    burn->since[burn->n] = since;
    burn->kelvin[burn->n++] = kelvin;
}

/* Flux into the first cell for a while, then still warm for another: temperature at the base of the epidermis. */
static void burn_skin(struct burn *burn, double flux, double lasts, double after)
{
    static const struct brv_slab_layer layer[] = {
        {75e-6, 0.6280, 4.40e6, 0.0}, {1125e-6, 0.5902, 4.186e6, 0.0}, {3885e-6, 0.2930, 2.60e6, 0.0}};
    const struct brv_slab_grid grid = {1e-6, 0.03, INFINITY, 0.0};
    struct brv_slab slab;
    struct brv_stepper stepper;
    assert_int_equal(brv_slab_build(&slab, layer, 3, &grid, 0.0, INFINITY, NULL), BRV_OK);
    assert_int_equal(brv_stepper_build(&stepper, slab.chain.n, NULL), BRV_OK);
    double *deposit = calloc(slab.chain.n, sizeof *deposit), now = 0.0;
    deposit[0] = flux * lasts;
    for (size_t i = 0; i < slab.chain.n; i++) slab.chain.rise[i] = start_at(0.5 * (slab.face[i] + slab.face[i + 1]));
    const struct brv_source source = {deposit, even_share, &lasts, lasts, lasts / N_FLUX};
    const struct brv_reading base = brv_slab_reading(&slab, 75e-6);
    burn->n = 0;
    note(burn, 0.0, 0.0, below + brv_chain_read(&slab.chain, &base));
    for (size_t i = 1; i <= N_FLUX; i++) {
        const double next = lasts * (double)i / N_FLUX;
        assert_int_equal(brv_stepper_advance(&stepper, &slab.chain, &source, now, next, 1e-6, NULL), BRV_OK);
        note(burn, now = next, i < N_FLUX ? next : 0.0, below + brv_chain_read(&slab.chain, &base));
    }
    for (double since = 1e-3 * lasts; since < after; since *= pow(10.0, 1.0 / PER_DECADE)) {
        assert_int_equal(brv_stepper_advance(&stepper, &slab.chain, &source, now, lasts + since, 1e-6, NULL), BRV_OK);
        note(burn, now = lasts + since, since, below + brv_chain_read(&slab.chain, &base));
    }
    free(deposit);
    brv_stepper_free(&stepper);
    brv_slab_free(&slab);
}

static double log_omega(double flux, double lasts, double after)
{
    static struct burn burn;
    burn_skin(&burn, flux, lasts, after);
    return brv_damage_log(epidermis(), burn.n, burn.time, burn.since, burn.kelvin);
}

static void check_manikin(const struct table_row *row, void *context)
{
    (void)context;
    const double flux = table_number(row, "q_W_m2"), lasts = table_number(row, "t_s");
    const double found = exp(log_omega(flux, lasts, 12.0));
    char what[120];
    snprintf(what, sizeof what, "manikin burn standard, %g W/m2 for %g s: Omega", flux, lasts);
    check_row(what, "burn-standards (memory)", found, 1.0, 0.15,
              "the standard asks 10 %; pairs and times are remembered to about 12 %");
    snprintf(what, sizeof what, "the same, against an independent computation");
    check_row(what, "burn-standards (computed)", found, table_number(row, "Omega_computed"),
              0.02 * table_number(row, "Omega_computed"), "same model, other cells and steps");
}

static void manikin_burns(void **state)
{
    (void)state;
    assert_int_equal(table_each(DATA "burn_f1930_check.csv", check_manikin, NULL), 6);
}

/* How long a flux lasts that brings Omega to 1, with what the skin takes while it cools. */
static double time_to_one(double flux, double guess)
{
    double low = 0.3 * guess, high = 3.0 * guess;
    for (int i = 0; i < 20; i++) {
        const double middle = 0.5 * (low + high);
        if (log_omega(flux, middle, 12.0) < 0.0)
            low = middle;
        else
            high = middle;
    }
    return 0.5 * (low + high);
}

static void check_blister(const struct table_row *row, void *context)
{
    (void)context;
    const double lasts = table_number(row, "t_s"), flux = 41868.0 * table_number(row, "q_cal_cm2_s");
    const double found = time_to_one(flux, lasts);
    char what[120];
    snprintf(what, sizeof what, "blister after %g s of %.3g kW/m2: predicted time, s", lasts, 1e-3 * flux);
    check_row(what, "stoll-chianta-1969 (seen)", found, lasts, 0.1 * lasts,
              "10 % in time; the flux is printed to two or three digits");
}

static void blisters(void **state)
{
    (void)state;
    assert_int_equal(table_each(DATA "stoll_chianta.csv", check_blister, NULL), 17);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rates_at_constant_temperature),
        cmocka_unit_test(what_lasts_is_a_part),
        cmocka_unit_test(ends_of_the_pairs),
        cmocka_unit_test(layers_have_rates_of_their_own),
        cmocka_unit_test(logarithms_do_not_overflow),
        cmocka_unit_test(rows_far_apart_are_joined_in_logarithms),
        cmocka_unit_test(equivalent_minutes),
        cmocka_unit_test(manikin_burns),
        cmocka_unit_test(blisters),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
