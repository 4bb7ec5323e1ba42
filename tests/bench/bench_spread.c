/* How long the draws of `brevis spread` take, on one thread and on two: 256 draws of a ready skin, lesion and neighbour,
 * with their quantiles and indices.                                                                               */
#define _DEFAULT_SOURCE
#include "report/seconds.h"
#include "scenario/keys.h"
#include "study/spread.h"

#include <gsl/gsl_errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void give(void *scope_struct, enum brv_scope scope, const char *name)
{
    unsigned given;
    memcpy(&given, scope_struct, sizeof given);
    given |= brv_key_bit((size_t)brv_key_find(scope, name));
    memcpy(scope_struct, &given, sizeof given);
}

static struct brv_scenario scenario(void)
{
    struct brv_scenario ask;
    memset(&ask, 0, sizeof ask);
    ask.beam.wavelength = 532e-9;
    ask.beam.spot = 4e-3;
    ask.beam.fluence = 6e3;
    ask.pulse.width = 7e-9;
    give(&ask.beam, BRV_SCOPE_LIGHT, "wavelength");
    give(&ask.beam, BRV_SCOPE_LIGHT, "spot");
    give(&ask.beam, BRV_SCOPE_LIGHT, "fluence");
    give(&ask.pulse, BRV_SCOPE_PULSE, "pulse");
    brv_skin_preset(&ask.skin[BRV_NEIGHBOUR], BRV_LIGHT_SKIN);
    ask.skin[BRV_LESION] = ask.skin[BRV_NEIGHBOUR];
    ask.skin[BRV_LESION].grain.layer = ask.skin[BRV_NEIGHBOUR].grain.layer = -1;
    brv_scenario_fill(&ask);
    return ask;
}

static double timed(const struct brv_scenario *ask, const struct brv_inputs *inputs, unsigned threads)
{
    static struct brv_spreading spreading;
    const struct brv_control control = {.threads = threads};
    const double start = brv_seconds(CLOCK_MONOTONIC);
    if (brv_spread_solve(&spreading, ask, inputs, BRV_SPREAD_DRAWS, &control, NULL)) {
        fputs("bench_spread: no answer\n", stderr);
        exit(EXIT_FAILURE);
    }
    brv_spread_free(&spreading);
    return brv_seconds(CLOCK_MONOTONIC) - start;
}

int main(void)
{
    static struct brv_inputs inputs;
    const struct brv_scenario ask = scenario();
    gsl_set_error_handler_off();
    brv_inputs_list(&inputs, &ask, NULL, 0);
    const double one = timed(&ask, &inputs, 1), two = timed(&ask, &inputs, 2);
    printf("spread: %d draws of %zu inputs   1 thread %.1f s   2 threads %.1f s   ratio %.2f\n", (int)BRV_SPREAD_DRAWS,
           inputs.n, one, two, one / two);
    return 0;
}
