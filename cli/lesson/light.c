/* Lessons on where the light goes: spots, wavelengths, what lies on the skin. */
#include "lesson/lessons.h"

#include "lesson/curve.h"
#include "lesson/drawing.h"
#include "lesson/phrase.h"
#include "light/light.h"
#include "light/light_sensitivity.h"
#include "report/published.h"

#include <math.h>
#include <string.h>

static const char group[] = "WHERE THE LIGHT GOES";

#define DEEP 3e-3 /* where "deepest" is asked; this project's choice [m] */

/* Light against depth in the neighbour, a curve for each choice. */
static void draw_depths(struct brv_exercise *exercise, const struct brv_compared *compared, bool log,
                        const char *caption)
{
    struct brv_curve_light light[BRV_DRAWING_CURVES];
    char asked[BRV_ASKED_SIZE];
    struct brv_drawing drawing = {
        .x = {.column = "depth_m", .label = "depth, mm", .scale = 1e3, .to = 3.0},
        .y = {.column = "light_J_m2", .label = "light in the neighbour, J/cm2", .scale = 1e-4, .log = log},
        .asked = brv_compared_asked(asked, compared),
        .caption = caption};
    for (size_t i = 0; i < compared->comparison->n && i < BRV_DRAWING_CURVES; i++)
        drawing.curve[drawing.n_curve++] =
            brv_curve_depth(&light[i], compared, i, BRV_NEIGHBOUR, compared->choices->choice[i].name);
    brv_drawing_add(exercise, &drawing);
}

/* ---- same energy, or same fluence ---- */

static void teach_spot(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    enum { NARROW, ENERGY, FLUENCE };
    char all[BRV_SHEET_LINE_SIZE], one[BRV_NUMBER_SIZE], two[BRV_NUMBER_SIZE];
    const double grain = brv_phrase_value(compared, NARROW, BRV_NEIGHBOUR, BRV_HEADLINE_LIGHT_GRAIN);
    const double deep = brv_phrase_value(compared, NARROW, BRV_NEIGHBOUR, BRV_HEADLINE_LIGHT_DEEP);
    const double wide_grain[3] = {grain, brv_phrase_value(compared, ENERGY, BRV_NEIGHBOUR, BRV_HEADLINE_LIGHT_GRAIN),
                                  brv_phrase_value(compared, FLUENCE, BRV_NEIGHBOUR, BRV_HEADLINE_LIGHT_GRAIN)};
    const double wide_deep[3] = {deep, brv_phrase_value(compared, ENERGY, BRV_NEIGHBOUR, BRV_HEADLINE_LIGHT_DEEP),
                                 brv_phrase_value(compared, FLUENCE, BRV_NEIGHBOUR, BRV_HEADLINE_LIGHT_DEEP)};

    brv_exercise_answer(
        exercise,
        "It depends on what is kept. The wider spot has %s light 1 mm deep at the same energy (%s that of the "
        "narrow one) and %s at the same fluence (%s).",
        brv_phrase_order(wide_deep[ENERGY], deep, "less", "as much", "more"),
        brv_phrase_times(one, wide_deep[ENERGY], deep),
        brv_phrase_order(wide_deep[FLUENCE], deep, "less", "as much", "more"),
        brv_phrase_times(two, wide_deep[FLUENCE], deep));
    brv_exercise_step(exercise, "Fluence is energy over area. 7 mm has %.3g times the area of 3 mm; fluence, %s.",
                      49.0 / 9.0, brv_phrase_all(all, compared, BRV_NEIGHBOUR, BRV_HEADLINE_FLUENCE));
    brv_exercise_step(exercise, "Light at the grain: %s.",
                      brv_phrase_all(all, compared, BRV_NEIGHBOUR, BRV_HEADLINE_LIGHT_GRAIN));
    brv_exercise_step(exercise, "Light at 1 mm: %s.",
                      brv_phrase_all(all, compared, BRV_NEIGHBOUR, BRV_HEADLINE_LIGHT_DEEP));
    brv_exercise_step(
        exercise,
        "At the same fluence the wider spot has %s the light at the grain and %s that at 1 mm: less of it leaves "
        "sideways, and that counts more the deeper one looks.",
        brv_phrase_times(one, wide_grain[FLUENCE], grain), brv_phrase_times(two, wide_deep[FLUENCE], deep));
    brv_exercise_step(exercise, "Threshold of a grain: %s.",
                      brv_phrase_all(all, compared, BRV_NEIGHBOUR, BRV_HEADLINE_THRESHOLD_GRAIN));
    brv_exercise_step(exercise, "Rise of blood in a vessel, if it kept all its heat: %s.",
                      brv_phrase_all(all, compared, BRV_NEIGHBOUR, BRV_HEADLINE_VESSEL));
    draw_depths(exercise, compared, false, "Light on the axis of the spot against depth, outside the lesion.");
}

const struct brv_lesson brv_lesson_wider_spot = {
    .name = "wider_spot",
    .group = group,
    .question = "Is a larger spot gentler?",
    .scenario = "lesson/wider_spot.yaml",
    .story = "1064 nm through 3 mm; through 7 mm with the same energy; through 7 mm with the same fluence.",
    .guess = {"yes, always: the light is spread out", "no, never: a wide beam goes deeper",
              "gentler with the energy kept, not with the fluence kept", NULL},
    .ask = {"7 mm has how many times the area of 3 mm? And its fluence, at the same energy?",
            "Why should the width matter 1 mm deep, if the fluence on the skin is the same?",
            "Where is the difference larger: at the surface, or 1 mm deep?",
            "Somebody turns the spot from 3 to 7 mm and leaves the fluence as it is. What changes for deep vessels?",
            NULL},
    .left_out =
        "The edge of the spot: all figures hold on its axis, where a gaussian beam would have twice the fluence "
        "before it enters, and less than twice in skin, for scattering evens it out.",
    .source = "",
    .next = "And at 532 nm (light.wavelength), where light stays shallow: does the width still matter?",
    .teach = teach_spot,
};

/* ---- wavelength and depth ---- */

/* Published threshold of whitening in guinea pigs at a wavelength [J/m2]. */
static double published_animal(double wavelength)
{
    for (size_t i = 0; i < brv_n_published; i++)
        if (brv_published[i].kind == BRV_ANIMAL && !strcmp(brv_published[i].source, "anderson-1989") &&
            fabs(brv_published[i].wavelength / wavelength - 1.0) < 1e-6)
            return brv_published[i].low;
    return NAN;
}

/* Light of a choice at a depth of the neighbour [J/m2]. */
static struct brv_spread light_at(const struct brv_compared *compared, size_t choice, double depth)
{
    const struct brv_result *result = &compared->comparison->result[choice];
    const struct brv_light *light = &result->site[BRV_NEIGHBOUR].light;
    const double value = result->ask.beam.fluence * brv_light_fluence(light, depth);
    const double end[2] = {value * brv_light_answer(light, 0, depth), value * brv_light_answer(light, 1, depth)};
    return (struct brv_spread){value, fmin(value, fmin(end[0], end[1])), fmax(value, fmax(end[0], end[1]))};
}

/* The choice with most light at a depth of the neighbour. */
static size_t deepest_at(const struct brv_compared *compared, double depth)
{
    size_t best = 0;
    double most = 0.0;
    for (size_t i = 0; i < compared->comparison->n; i++) {
        const double here = light_at(compared, i, depth).value;
        if (here > most) best = i;
        most = fmax(most, here);
    }
    return best;
}

/* From here on to 3 mm the choice that has most light at 3 mm has most; in steps of 10 um [m]. */
static double leads_from(const struct brv_compared *compared)
{
    const size_t best = deepest_at(compared, DEEP);
    size_t step = 300;
    while (step > 0 && deepest_at(compared, DEEP * (double)(step - 1) / 300.0) == best) step--;
    return DEEP * (double)step / 300.0;
}

/* "532 nm: 0.1 J/cm2 (0.05 to 0.2); ..." at a depth of the neighbour. */
static const char *all_light_at(char out[BRV_SHEET_LINE_SIZE], const struct brv_compared *compared, double depth)
{
    char one[BRV_TERM_SIZE];
    size_t used = 0;
    for (size_t i = 0; i < compared->comparison->n && used < BRV_SHEET_LINE_SIZE; i++) {
        const struct brv_spread light = light_at(compared, i, depth);
        used += (size_t)snprintf(out + used, BRV_SHEET_LINE_SIZE - used, "%s%s: %s", i ? "; " : "",
                                 compared->choices->choice[i].name, brv_phrase_spread(one, &light, 1e-4, 0.0, "J/cm2"));
    }
    return out;
}

static void teach_wavelength(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    const size_t last = compared->comparison->n - 1;
    const struct brv_spread deep[2] = {light_at(compared, 0, DEEP), light_at(compared, last, DEEP)};
    const double threshold[2] = {brv_phrase_value(compared, 0, BRV_NEIGHBOUR, BRV_HEADLINE_THRESHOLD_GRAIN),
                                 brv_phrase_value(compared, last, BRV_NEIGHBOUR, BRV_HEADLINE_THRESHOLD_GRAIN)};
    const double whitening[2] = {published_animal(532e-9), published_animal(1064e-9)};
    char all[BRV_SHEET_LINE_SIZE], one[BRV_TERM_SIZE], two[BRV_TERM_SIZE];

    brv_exercise_answer(exercise,
                        "%s goes deepest of the four in the skin around the lesion, leading from %s on, and it costs "
                        "heat in the pigment: at the same fluence 1064 nm "
                        "has %s the light of 532 nm 3 mm deep and gives a grain %s the rise.",
                        compared->choices->choice[deepest_at(compared, DEEP)].name,
                        brv_number_unit(two, leads_from(compared), BRV_LENGTH),
                        brv_phrase_ratio_of(one, &deep[1], &deep[0]),
                        brv_phrase_ratio(all, compared, last, 0, BRV_NEIGHBOUR, BRV_HEADLINE_GRAIN_PEAK));
    brv_exercise_step(exercise,
                      "Light at 1 mm around the lesion: %s. Most has %s there; where brackets overlap it is no race.",
                      brv_phrase_all(all, compared, BRV_NEIGHBOUR, BRV_HEADLINE_LIGHT_DEEP),
                      compared->choices->choice[deepest_at(compared, 1e-3)].name);
    brv_exercise_step(exercise, "Light at 3 mm: %s.", all_light_at(all, compared, DEEP));
    brv_exercise_step(exercise, "Highest rise of a grain: %s.",
                      brv_phrase_all(all, compared, BRV_NEIGHBOUR, BRV_HEADLINE_GRAIN_PEAK));
    brv_exercise_step(exercise, "Threshold of a grain: %s.",
                      brv_phrase_all(all, compared, BRV_NEIGHBOUR, BRV_HEADLINE_THRESHOLD_GRAIN));
    brv_exercise_step(
        exercise,
        "1064 over 532 nm, that is %.2g. In guinea pigs whitening took %.2g and %.2g J/cm2, a ratio of %.2g "
        "[anderson-1989, abstract]: another skin, another end point, and not fitted.",
        threshold[1] / threshold[0], 1e-4 * whitening[1], 1e-4 * whitening[0], whitening[1] / whitening[0]);
    brv_exercise_step(exercise, "Blood takes up light too; its rise in a vessel, if it kept all its heat: %s.",
                      brv_phrase_all(all, compared, BRV_NEIGHBOUR, BRV_HEADLINE_VESSEL));
    draw_depths(exercise, compared, true, "Light against depth at one fluence, outside the lesion. Logarithmic.");
}

const struct brv_lesson brv_lesson_wavelength_and_depth = {
    .name = "wavelength_and_depth",
    .group = group,
    .question = "Which wavelength goes deepest, and what does that cost?",
    .scenario = "lesson/wavelength_and_depth.yaml",
    .story = "The same fluence at 532, 694, 755 and 1064 nm in the same skin.",
    .guess = {"532 nm goes deepest: it is absorbed most", "red and infrared go deeper, and heat pigment less",
              "all go equally deep, for scattering decides", NULL},
    .ask = {"What takes up 532 nm on its way, besides pigment?",
            "By what factor would you raise the fluence at 1064 nm to heat a grain as at 532 nm?",
            "Which wavelength reaches pigment in the dermis, and what else does it then reach?", NULL},
    .left_out = "That skins differ: these are one ready skin's numbers. Whitening is not a grain's threshold.",
    .source = "Ratio of whitening thresholds [anderson-1989, abstract].",
    .next = "Make the skin dark (skin: dark). Which wavelength loses most of its light on the way?",
    .teach = teach_wavelength,
};

/* ---- air, gel, plate ---- */

/* "78.1 C (54.2 to 104)": highest temperature of the grain's layer in the lesion. */
static const char *hottest(char out[BRV_TERM_SIZE], const struct brv_compared *compared, size_t choice)
{
    const struct brv_effect *effect = &compared->comparison->result[choice].site[BRV_LESION].effect;
    return brv_phrase_degrees(out, &effect->hottest[BRV_PROBE_LAYER], effect->ceiling);
}

static void teach_outside(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    enum { AIR, GEL, WARM, COLD };
    const double light[2] = {brv_phrase_value(compared, AIR, BRV_LESION, BRV_HEADLINE_LIGHT_GRAIN),
                             brv_phrase_value(compared, WARM, BRV_LESION, BRV_HEADLINE_LIGHT_GRAIN)};
    const double rise[2] = {brv_phrase_value(compared, WARM, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK),
                            brv_phrase_value(compared, COLD, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK)};
    char all[BRV_SHEET_LINE_SIZE], one[BRV_NUMBER_SIZE], text[4][BRV_TERM_SIZE];

    brv_exercise_answer(
        exercise,
        "The light, and before any cold: a plate as warm as the skin leaves %s of it at the grain, %s that under air. "
        "The cold then changes the grain's rise %s; it changes where the rise starts.",
        brv_phrase_order(light[1], light[0], "less", "as much", "more"), brv_phrase_times(one, light[1], light[0]),
        fabs(rise[1] / rise[0] - 1.0) < 0.01 ? "not at all" : "a little");
    brv_exercise_step(exercise, "Light at the grain: %s.",
                      brv_phrase_all(all, compared, BRV_LESION, BRV_HEADLINE_LIGHT_GRAIN));
    brv_exercise_step(
        exercise,
        "Skin scatters light back to its surface. Air mirrors much of that in again; gel and plate, whose index "
        "is nearer to skin's, let it out.");
    brv_exercise_step(exercise, "Highest rise of a grain: %s.",
                      brv_phrase_all(all, compared, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK));
    brv_exercise_step(exercise, "Highest temperature of its layer: air: %s; gel: %s; warm plate: %s; cold plate: %s.",
                      hottest(text[0], compared, AIR), hottest(text[1], compared, GEL),
                      hottest(text[2], compared, WARM), hottest(text[3], compared, COLD));
    brv_exercise_step(exercise,
                      "Threshold of a grain: %s. A figure that grows with the cold is no room for more light.",
                      brv_phrase_all(all, compared, BRV_LESION, BRV_HEADLINE_THRESHOLD_GRAIN));
    brv_exercise_step(
        exercise,
        "What is laid on afterwards comes too late for the grain: heated at once, its lead over its layer is down to "
        "1/e after %s.",
        brv_number_unit(one, compared->comparison->result[AIR].site[BRV_LESION].effect.cooling.mean_efold, BRV_TIME));
    brv_drawing_choices(exercise, compared, BRV_HEADLINE_LIGHT_GRAIN, false,
                        "Light at the grain under the same fluence, by what lies on the skin.");
}

const struct brv_lesson brv_lesson_air_gel_plate = {
    .name = "air_gel_plate",
    .group = group,
    .question = "What do gel and a cold plate change, besides being cold?",
    .scenario = "lesson/air_gel_plate.yaml",
    .story = "One pulse on bare skin, through gel, through a plate as warm as the skin, through the same plate at 5 C "
             "that lies "
             "there for 2 s before.",
    .guess = {"nothing but the temperature", "they also change how much light there is in the skin",
              "the cold makes the grain's rise smaller", NULL},
    .ask = {"Where does light go that skin scatters back to its surface?",
            "Rise, or temperature: which of them does the cold change?",
            "A cold pack one minute later: what is left for it to cool?",
            "The threshold's figure is higher under the cold plate. May one therefore give more?", NULL},
    .left_out = "Harm by cold, pressure of the plate on vessels, how firmly it lies.",
    .source = "",
    .next = "How long must the plate lie there before? Change surface.from to -0.1 s and look at the layer.",
    .teach = teach_outside,
};
