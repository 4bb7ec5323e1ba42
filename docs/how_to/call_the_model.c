/* The model called from C: the spot of scenarios/hand_532nm.yaml, its lesion's hottest grain and the fluence from which a
 * grain is disrupted. Teaching model of light and heat in an idealised skin; not a medical device, not for diagnosis, not
 * for choosing settings for a person. Build and run, with the library installed (see use_the_library.md beside this file):
 *
 *     cc -std=c11 call_the_model.c -o call_the_model $(pkg-config --cflags --libs --static brevis) && ./call_the_model */
#include <brevis/run/run.h>
#include <brevis/scenario/given.h>

#include <gsl/gsl_errno.h>

#include <stdio.h>
#include <stdlib.h>

static const enum brv_layer_kind layers[] = {BRV_HORNY, BRV_EPIDERMIS, BRV_BASAL, BRV_DERMIS};

/* Paths as in a scenario file, values in SI; what is not given has its default. */
static const struct {
    const char *path;
    double value;
} given[] = {
    {"light.wavelength", 532e-9},
    {"light.pulse", 7e-9},
    {"light.spot", 4e-3},
    {"light.fluence", 6e3}, /* 0.6 J/cm2 */
    {"skin.horny.thickness", 15e-6},
    {"skin.epidermis.thickness", 60e-6},
    {"skin.epidermis.melanosomes", 0.018},
    {"skin.basal.thickness", 10e-6},
    {"skin.basal.melanosomes", 0.10},
    {"skin.dermis.blood", 0.003},
    {"lesion.basal.melanosomes", 0.25}, /* after what is given to the skin */
    {"grain.diameter", 0.5e-6},
    {"watch.depths", 0.0}, /* a list: one value more each time */
    {"watch.depths", 80e-6},
    {"watch.depths", 300e-6},
    {"watch.depths", 1e-3},
    {"watch.until", 10.0},
};

static int failed(const char *what, const struct brv_error *error)
{
    fprintf(stderr, "%s: %s %s: found %g\n", what, error->place, brv_status_text(error->status), error->found);
    return EXIT_FAILURE;
}

static void print(const char *name, struct brv_spread number, const char *unit)
{
    printf("%s %.9g (%.9g to %.9g) %s\n", name, number.value, number.low, number.high, unit);
}

int main(void)
{
    struct brv_scenario ask = {0};
    struct brv_error error = {0};
    gsl_set_error_handler_off(); /* the model looks at statuses itself */

    brv_skin_stack(&ask, layers, sizeof layers / sizeof *layers);
    for (size_t i = 0; i < sizeof given / sizeof *given; i++)
        if (brv_scenario_give(&ask, given[i].path, given[i].value, &error)) return failed(given[i].path, &error);
    brv_scenario_fill(&ask); /* the defaults */
    if (brv_scenario_check(&ask, &error, 1)) return failed("scenario", &error);

    struct brv_result result;
    if (brv_run_solve(&result, &ask, NULL, &error)) return failed("run", &error);
    const struct brv_effect *lesion = &result.site[BRV_LESION].effect;
    puts("Teaching model; not a medical device, not for choosing settings for a person.");
    puts("In brackets: grains 0.316 to 3.16 times as dark, other way round for the threshold.");
    print("peak_rise_of_grain", lesion->peak[BRV_PROBE_MEAN], "K");
    print("threshold_of_grain", lesion->threshold_grain, "J/m2");
    if (lesion->above)
        puts("This rise is absorbed energy over heat capacity: nothing boils or vaporises in the model.");
    brv_run_free(&result);
}
