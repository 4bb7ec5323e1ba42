#include "report/note.h"

#include "base/constants.h"
#include "report/number.h"
#include "tissue/chromophore.h"

#include <math.h>
#include <stdarg.h>
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

static void note_beam(struct brv_notes *notes, const struct brv_light *light)
{
    static const char *const overstated[] = {
        [BRV_WIDE_ALL] = "light is overstated little down to 3 mm",
        [BRV_WIDE_SHALLOW] = "light is overstated little at the basal row, noticeably from 1 mm on",
        [BRV_WIDE_NOT] = ("light is overstated noticeably at the basal row and strongly deeper "
                          "(4 mm at 1064 nm: by 1.35 there, by 1.7 at 1 mm)")};
    add(notes, "beam: endless. The spot is %.1f diffusion depths wide: %s.", light->spot_depths,
        overstated[light->wide]);
}

static void note_criterion(struct brv_notes *notes, const struct brv_result *result)
{
    if (result->site[BRV_LESION].effect.above || result->site[BRV_NEIGHBOUR].effect.above)
        add(notes, "without vaporisation: above %.0f C this is absorbed energy / heat capacity, no temperature.",
            brv_criteria[0].temperature - BRV_ZERO_C);
}

static void note_pulse(struct brv_notes *notes, const struct brv_effect *effect)
{
    if (effect->pulse > effect->cooling.mean_efold)
        add(notes, "the pulse outlasts the grain's relaxation: heat leaves it while it is still being heated.");
    else if (effect->pulse > effect->stress_time)
        add(notes, "the pulse is short against heat but not against sound (%.2g ns across the grain).",
            1e9 * effect->stress_time);
}

static void note_tissue(struct brv_notes *notes, const struct brv_scenario *ask)
{
    if (!ask->lesion_given)
        add(notes, "no lesion was described: taken as the neighbour with 2.5 times its basal pigment, 60 %% at most.");
    if (ask->beam.wavelength > BRV_BLOOD_TABLE_END)
        add(notes, "blood above 1000 nm: the last value of the table is held.");
    if (ask->beam.wavelength > NEAR_INFRARED)
        add(notes, "baseline absorption is the weakest input here: in living skin it was up to 5 times lower.");
    if (ask->beam.spot < CHECKED_SPOT_LEAST || ask->beam.spot > CHECKED_SPOT_MOST)
        add(notes, "spots below 1 mm or above 20 mm are not checked.");
}

static void note_alone(struct brv_notes *notes, const struct brv_result *result)
{
    for (size_t i = 0; i < BRV_N_SITE; i++)
        if (isinf(result->site[i].tissue.grain.cell_radius)) {
            add(notes,
                "no pigment share in the grain's layer: the grain is alone, its heat comes on top of the layer's.");
            return;
        }
}

static void note_sideways(struct brv_notes *notes, const struct brv_result *result)
{
    const double sideways = result->site[BRV_NEIGHBOUR].effect.sideways;
    char time[BRV_NUMBER_SIZE];
    if (sideways < result->ask.watch.until)
        add(notes, "after %s heat also leaves sideways: layers are then cooler than drawn.",
            brv_number_unit(time, sideways, BRV_TIME));
}

void brv_notes_make(struct brv_notes *notes, const struct brv_result *result)
{
    notes->n = 0;
    note_criterion(notes, result);
    note_beam(notes, &result->site[BRV_NEIGHBOUR].light);
    if (result->ask.beam.profile == BRV_PROFILE_GAUSSIAN)
        add(notes, "gaussian beam: everything is on the axis, where the fluence is twice energy / area.");
    note_pulse(notes, &result->site[BRV_LESION].effect);
    note_alone(notes, result);
    note_tissue(notes, &result->ask);
    note_sideways(notes, result);
    add(notes,
        "(low to high): grains 0.316 to 3.16 times as dark, light and shading held fixed. Each site fills the beam.");
}
