#include "report/note.h"

#include "base/constants.h"
#include "report/number.h"
#include "tissue/chromophore.h"

#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>

#define CHECKED_SPOT_LEAST 1e-3 /* spots outside this range are accepted but no check covers them */
#define CHECKED_SPOT_MOST  20e-3
#define NEAR_INFRARED      800e-9

static void add(struct brv_notes *notes, const char *format, ...) __attribute__((format(printf, 2, 3)));

static void add(struct brv_notes *notes, const char *format, ...)
{
    if (notes->n == BRV_MOST_NOTES) return;
    va_list list;
    va_start(list, format);
    vsnprintf(notes->text[notes->n++], BRV_NOTE_SIZE, format, list);
    va_end(list);
}

/* How an endless beam overstates the light of a spot, by the spot's width in diffusion depths. */
static const char *overstated(double spot_depths)
{
    if (spot_depths >= 10.0) return "Light overstated little down to 3 mm";
    if (spot_depths >= 4.5) return "Light overstated little near the surface, noticeably from 1 mm";
    return "Light overstated noticeably near the surface, strongly deeper (`method: spot` computes it)";
}

static void note_beam(struct brv_notes *notes, const struct brv_result *result)
{
    const struct brv_light *light = &result->site[BRV_LESION].light;
    const double grain = light->top[result->site[BRV_LESION].tissue.grain.layer];
    if (light->method == BRV_METHOD_LAYERED) {
        add(notes, "beam: endless (spot: %.1f diffusion depths). %s.", light->spot_depths,
            overstated(light->spot_depths));
        return;
    }
    char spot[BRV_NUMBER_SIZE];
    add(notes,
        "beam: all light is on the axis of the %s spot: %.2f of an endless beam's at the grain's layer, %.2f at 1 mm.",
        brv_number_unit(spot, result->ask.beam.spot, BRV_LENGTH), brv_light_ratio(light, grain),
        brv_light_ratio(light, 1e-3));
}

static void note_sampled(struct brv_notes *notes, const struct brv_result *result)
{
    const struct brv_light *light = &result->site[BRV_LESION].light, *other = &result->site[BRV_NEIGHBOUR].light;
    if (light->method != BRV_METHOD_SAMPLED) return;
    const double grain = light->top[result->site[BRV_LESION].tissue.grain.layer];
    add(notes, "light sampled: %s%llu photons in the lesion, %llu beside it; standard error at the grain %.2g %%.",
        light->stopped || other->stopped ? "stopped at " : "", (unsigned long long)light->photons,
        (unsigned long long)other->photons, 100.0 * brv_light_error(light, grain) / brv_light_fluence(light, grain));
}

static bool above_criterion(const struct brv_result *result)
{
    return result->site[BRV_LESION].effect.above || result->site[BRV_NEIGHBOUR].effect.above;
}

static void note_grain(struct brv_notes *notes, const struct brv_result *result)
{
    if (above_criterion(result))
        add(notes, "without vaporisation: above %.0f C, grain or layer, a figure is energy / heat capacity only.",
            brv_criteria[0].temperature - BRV_ZERO_C);
    add(notes, "thresholds are of ONE grain, no dose: they rise with pigment, what is seen on skin does not.");
}

static double most_pigment(const struct brv_site *site)
{
    double most = 0.0;
    for (size_t i = 0; i < site->tissue.n_layer; i++) most = fmax(most, site->tissue.layer[i].melanosomes);
    return most;
}

static void note_pulse(struct brv_notes *notes, const struct brv_effect *effect)
{
    char sound[BRV_NUMBER_SIZE];
    brv_number_unit(sound, effect->stress_time, BRV_TIME);
    if (effect->pulse > effect->cooling.mean_efold)
        add(notes, "the pulse outlasts the grain's relaxation: heat leaves it while it is still being heated.");
    else if (effect->pulse > effect->stress_time)
        add(notes, "the pulse is short against heat, not against sound, which crosses the grain in %s.", sound);
    else
        add(notes, "the pulse is SHORTER than sound needs across the grain (%s): pressure is not in this model.",
            sound);
}

static void note_lesion(struct brv_notes *notes, const struct brv_result *result)
{
    if (most_pigment(&result->site[BRV_LESION]) < most_pigment(&result->site[BRV_NEIGHBOUR]))
        add(notes, "the lesion has LESS pigment than the skin around it.");
    if (!result->ask.lesion_given)
        add(notes, "no lesion was described: taken as the neighbour with 2.5 times its basal pigment, 60 %% at most.");
}

static void note_alone(struct brv_notes *notes, const struct brv_result *result)
{
    bool alone = false;
    for (size_t i = 0; i < BRV_N_SITE; i++) alone |= isinf(result->site[i].tissue.grain.cell_radius) != 0;
    if (alone) add(notes, "no pigment share in that layer: the grain is alone, its heat comes on top of the layer's.");
}

static void note_sideways(struct brv_notes *notes, const struct brv_result *result)
{
    const double sideways = result->site[BRV_NEIGHBOUR].effect.sideways;
    char time[BRV_NUMBER_SIZE];
    if (sideways < result->ask.watch.until)
        add(notes, "after %s heat also leaves sideways: later peaks, marked ~, are upper bounds.",
            brv_number_unit(time, sideways, BRV_TIME));
}

static void note_inputs(struct brv_notes *notes, const struct brv_scenario *ask)
{
    if (ask->beam.wavelength > BRV_BLOOD_TABLE_END)
        add(notes, "blood above 1000 nm: the last value of the table is held.");
    if (ask->beam.wavelength > NEAR_INFRARED)
        add(notes, "baseline absorption is the weakest input here: in living skin it was up to 5 times lower.");
    if (ask->beam.spot < CHECKED_SPOT_LEAST || ask->beam.spot > CHECKED_SPOT_MOST)
        add(notes, "spots below 1 mm or above 20 mm are not checked.");
}

void brv_notes_make(struct brv_notes *notes, const struct brv_result *result)
{
    notes->n = 0;
    note_grain(notes, result);
    note_lesion(notes, result);
    note_beam(notes, result);
    note_sampled(notes, result);
    if (result->ask.beam.profile == BRV_PROFILE_GAUSSIAN)
        add(notes, "gaussian beam: all but the threshold is on the axis, where the fluence is twice energy / area.");
    note_pulse(notes, &result->site[BRV_LESION].effect);
    add(notes, "(low to high): grains 0.316 to 3.16 times as dark, thresholds the reverse; light held fixed.");
    note_alone(notes, result);
    note_sideways(notes, result);
    note_inputs(notes, &result->ask);
    add(notes, "lesion and neighbour are two separate runs, each as wide as the beam.");
}
