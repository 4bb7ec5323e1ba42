/* Draws of any scenario are sound scenarios. BREVIS_SEED=n repeats or varies them; a failure prints the scenario. */
#include "study/draw.h"
#include "study/inputs.h"
#include "support/check.h"
#include "support/random.h"

#include <math.h>
#include <string.h>

enum { N_CASE = 400, N_OPENED = 6, N_DRAW = 24 };

static bool known(const struct brv_opened opened[], size_t n, const struct brv_opened *one)
{
    for (size_t i = 0; i < n; i++)
        if (opened[i].key == one->key && opened[i].site == one->site && opened[i].layer == one->layer) return true;
    return false;
}

/* One number of the scenario, opened over any part of its key's range that holds it. */
static bool open_one(struct brv_opened *opened, gsl_rng *random, const struct brv_scenario *ask)
{
    const size_t key = gsl_rng_uniform_int(random, (unsigned long)brv_n_keys);
    const bool layered = brv_keys[key].scope == BRV_SCOPE_LAYER,
               either = layered || brv_keys[key].scope == BRV_SCOPE_GRAIN;
    const size_t site = either && gsl_rng_uniform(random) < 0.3 ? BRV_LESION : BRV_NEIGHBOUR;
    const size_t layer = layered ? gsl_rng_uniform_int(random, (unsigned long)ask->skin[site].n_layer) : 0;
    const double value = brv_inputs_value(ask, key, site, layer);
    if (isnan(value)) return false;
    const double low = random_even(random, brv_keys[key].least, value);
    const double high =
        gsl_rng_uniform(random) < 0.5 ? brv_keys[key].most : random_even(random, value, brv_keys[key].most);
    *opened = (struct brv_opened){key, site, layer, brv_keys[key].above ? fmax(low, 1e-3 * value) : low, high};
    return opened->low < opened->high;
}

/* Fluence and energy are one number, and the reader refuses to open both. */
static bool is_energy(size_t key)
{
    return (int)key == brv_key_find(BRV_SCOPE_LIGHT, "energy");
}

static size_t open_some(struct brv_opened opened[N_OPENED], gsl_rng *random, const struct brv_scenario *ask)
{
    size_t n = 0;
    for (int i = 0; i < 4 * N_OPENED && n < N_OPENED; i++)
        if (open_one(&opened[n], random, ask) && !is_energy(opened[n].key) && !known(opened, n, &opened[n])) n++;
    return n;
}

/* At the corners as well as inside. */
static double somewhere(gsl_rng *random)
{
    const double where = gsl_rng_uniform(random);
    return where < 0.15 ? 0.0 : where > 0.85 ? 1.0 : gsl_rng_uniform(random);
}

static void in_their_ranges(const struct random_case *one, const struct brv_scenario *draw)
{
    for (size_t site = 0; site < BRV_N_SITE; site++)
        for (size_t i = 0; i < draw->skin[site].n_layer; i++) {
            const struct brv_layer_ask *layer = &draw->skin[site].layer[i];
            random_case_hold(one, layer->melanosomes >= 0.0 && layer->melanosomes <= 0.6, "melanosomes",
                             layer->melanosomes, 0.6);
            if (!brv_key_given(layer, BRV_SCOPE_LAYER, "absorption"))
                random_case_hold(one, layer->melanosomes + layer->blood <= 1.0, "blood", layer->blood,
                                 1.0 - layer->melanosomes);
        }
    const double rounding = 1e-12; /* relative, of what follows: a few products and quotients of 2e-16 each */
    random_case_hold(one, draw->beam.fluence >= 0.1 * (1.0 - rounding) && draw->beam.fluence <= 1e7 * (1.0 + rounding),
                     "fluence", draw->beam.fluence, 1e7);
    random_case_hold(one, draw->beam.energy >= 1e-7 * (1.0 - rounding) && draw->beam.energy <= 1e3 * (1.0 + rounding),
                     "energy", draw->beam.energy, 1e3);
    random_case_hold(one, draw->beam.spot >= 0.5e-3 && draw->beam.spot <= 30e-3, "spot", draw->beam.spot, 30e-3);
}

static void every_draw_is_sound(void **state)
{
    (void)state;
    size_t most = 0;
    for (size_t i = 0; i < N_CASE; i++) {
        struct random_case one = random_case_draw(i);
        struct brv_opened opened[N_OPENED];
        struct brv_inputs inputs;
        gsl_rng *random = random_stream(one.seed, 100000 + i);
        one.ask.beam.method = BRV_METHOD_SPOT; /* a walk of photons is refused by the command */
        const size_t n = i % 2 ? open_some(opened, random, &one.ask) : 0;
        brv_inputs_list(&inputs, &one.ask, opened, n);
        if (inputs.n > most) most = inputs.n;
        for (size_t k = 0; k < N_DRAW; k++) {
            double u[BRV_MOST_INPUTS];
            struct brv_scenario draw;
            struct brv_error fault = {.key = -1, .place = "draw"};
            for (size_t j = 0; j < inputs.n; j++) u[j] = somewhere(random);
            brv_draw_apply(&draw, &one.ask, &inputs, u);
            const size_t faults = brv_scenario_check(&draw, &fault, 1);
            random_case_hold(&one, faults == 0, fault.key >= 0 ? brv_keys[fault.key].name : fault.place, fault.found,
                             fault.most);
            in_their_ranges(&one, &draw);
        }
        gsl_rng_free(random);
    }
    print_message("up to %zu inputs\n", most);
    assert_true(most > 30);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(every_draw_is_sound)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
