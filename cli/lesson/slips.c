/* Lessons on what hand and meter get wrong. */
#include "lesson/lessons.h"

#include "lesson/drawing.h"
#include "lesson/phrase.h"
#include "report/asked.h"
#include "side/hazard.h"
#include "side/output.h"
#include "study/compare.h"
#include "study/slip.h"

#include <math.h>

static const char group[] = "THE HAND AND THE METER";

/* "532 nm, 7 ns, 6 mm, 0.5 J/cm2" */
static void say_pulse(char out[BRV_FIGURE_TEXT], const struct brv_scenario *ask)
{
    char pulse[BRV_NUMBER_SIZE], spot[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE];
    snprintf(out, BRV_FIGURE_TEXT, "%.4g nm, %s, %s, %s", 1e9 * ask->beam.wavelength,
             brv_number_unit(pulse, ask->pulse.width, BRV_TIME), brv_number_unit(spot, ask->beam.spot, BRV_LENGTH),
             brv_number_unit(fluence, ask->beam.fluence, BRV_FLUENCE));
}

/* ---- tilt or spot ---- */

#define DEGREE 0.017453292519943295

/* Fluence over that asked for after a slip of the list [1]; NAN: none is like it. */
static double after(const struct brv_slip slip[BRV_N_SLIP], enum brv_slip_kind kind, double size)
{
    for (size_t i = 0; i < BRV_N_SLIP; i++)
        if (slip[i].kind == kind && fabs(slip[i].size - size) < 1e-9 && !(slip[i].spot_size > 0.0))
            return slip[i].fluence;
    return NAN;
}

/* Change in per cent, with its sign. */
static double change(double fluence)
{
    return 100.0 * (fluence - 1.0);
}

static void draw_slips(struct brv_exercise *exercise, const struct brv_scenario *ask,
                       const struct brv_slip slip[BRV_N_SLIP])
{
    enum { N = 8 };
    static const char *const names[N] = {"tilt 10 deg",     "tilt 30 deg",    "spot 5 % small", "spot 10 % small",
                                         "spot 10 % large", "10 mm too near", "10 mm too far",  "output 20 % up"};
    const double x[N] = {1, 2, 3, 4, 5, 6, 7, 8};
    const double y[N] = {after(slip, BRV_SLIP_TILT, 10.0 * DEGREE), after(slip, BRV_SLIP_TILT, 30.0 * DEGREE),
                         after(slip, BRV_SLIP_SPOT, -0.05),         after(slip, BRV_SLIP_SPOT, -0.10),
                         after(slip, BRV_SLIP_SPOT, 0.10),          after(slip, BRV_SLIP_STAND_OFF, -10e-3),
                         after(slip, BRV_SLIP_STAND_OFF, 10e-3),    after(slip, BRV_SLIP_OUTPUT, 0.20)};
    char asked[BRV_FIGURE_TEXT];
    say_pulse(asked, ask);
    const struct brv_drawing drawing = {
        .x = {.column = "slip", .label = "", .scale = 1.0},
        .y = {.column = "fluence_ratio", .label = "fluence over that asked for, %", .scale = 100.0, .to = 160.0},
        .names = names,
        .n_name = N,
        .asked = asked,
        .caption =
            "Fluence after one slip. 100 % is what was planned; near and far are for a cone that opens by 100 mrad.",
        .n_curve = 1,
        .curve = {{.name = "", .n = N, .x = x, .y = y, .points = true}}};
    brv_drawing_add(exercise, &drawing);
}

/* Which of four slips changes the fluence most, either way. */
static const char *largest_of(double distance, double width, double output, double tilt)
{
    static const char *const name[4] = {"distance", "width", "output", "tilt"};
    const double fluence[4] = {distance, width, output, tilt};
    size_t most = 0;
    for (size_t i = 1; i < 4; i++)
        if (fabs(change(fluence[i])) > fabs(change(fluence[most]))) most = i;
    return name[most];
}

static void say_slips(struct brv_exercise *exercise, const struct brv_scenario *ask,
                      const struct brv_slip slip[BRV_N_SLIP])
{
    const double tilt = after(slip, BRV_SLIP_TILT, 10.0 * DEGREE), small = after(slip, BRV_SLIP_SPOT, -0.10);
    const double thirty = after(slip, BRV_SLIP_TILT, 30.0 * DEGREE);
    const double near = after(slip, BRV_SLIP_STAND_OFF, -10e-3), output = after(slip, BRV_SLIP_OUTPUT, 0.20);
    char text[BRV_NUMBER_SIZE];
    brv_exercise_answer(exercise,
                        "Of these the %s: 10 mm too near give %+.3g %%, a width 10 %% too small %+.3g, 20 %% more "
                        "output %+.3g, a tilt of "
                        "10 degrees %+.2g. The sizes chosen here make that order. Like for like, 5 %% of each, the "
                        "width gives %+.3g %% "
                        "and the output 5: the width counts twice.",
                        largest_of(near, small, output, tilt), change(near), change(small), change(output),
                        change(tilt), change(after(slip, BRV_SLIP_SPOT, -0.05)));
    brv_exercise_step(exercise, "Tilt makes the spot longer by 1/cos: 10, 20, 30 degrees give %+.2g, %+.2g, %+.3g %%.",
                      change(tilt), change(after(slip, BRV_SLIP_TILT, 20.0 * DEGREE)), change(thirty));
    brv_exercise_step(
        exercise,
        "The width counts by its square: 5 %% too small gives %+.3g %%, 10 %% too small %+.3g, 10 %% too large %+.3g.",
        change(after(slip, BRV_SLIP_SPOT, -0.05)), change(small), change(after(slip, BRV_SLIP_SPOT, 0.10)));
    brv_exercise_step(
        exercise,
        "Distance makes the width wrong: 10 mm in a cone of 100 mrad are %.2g %% of %s; %+.3g %% too far, %+.3g %% too "
        "near.",
        100.0 * (1.0 - 1.0 / sqrt(near)), brv_number_unit(text, ask->beam.spot, BRV_LENGTH),
        change(after(slip, BRV_SLIP_STAND_OFF, 10e-3)), change(near));
    brv_exercise_step(
        exercise, "A tilt of 30 degrees is as much as a spot %.2g %% too wide. Errors of output: %+.3g and %+.3g %%.",
        100.0 * (sqrt(1.0 / thirty) - 1.0), change(after(slip, BRV_SLIP_OUTPUT, -0.20)),
        change(after(slip, BRV_SLIP_OUTPUT, 0.20)));
    brv_exercise_step(
        exercise,
        "20 %% of output and 5 %% of width that know nothing of each other make %.3g %%, with 10 %% of width "
        "%.3g.",
        100.0 * brv_output_together(0.20, 0.05), 100.0 * brv_output_together(0.20, 0.10));
    draw_slips(exercise, ask, slip);
}

static brv_status solve_slips(struct brv_exercise *exercise, const struct brv_choices *choices,
                              const struct brv_control *control, struct brv_error *error)
{
    (void)control, (void)error;
    struct brv_slip slip[BRV_N_SLIP];
    const struct brv_scenario *ask = &choices->choice[0].request.scenario;
    brv_slips_list(slip, ask);
    say_slips(exercise, ask, slip);
    return BRV_OK;
}

const struct brv_lesson brv_lesson_tilt_or_spot_error = {
    .name = "tilt_or_spot_error",
    .group = group,
    .question = "Which slip changes the fluence most, and which at like size?",
    .scenario = "lesson/tilt_or_spot_error.yaml",
    .story = "One pulse is planned. Then the handpiece is tilted, the spot is 10 % smaller than thought, the "
             "distance is 10 mm wrong, the output 20 %.",
    .guess = {"the tilt of 10 or 30 degrees", "the width of the spot", "the distance", "the output of the device",
              NULL},
    .ask = {"Tilted by 30 degrees a round spot becomes oval. How much longer, and how much less fluence?",
            "The width is 10 % smaller than thought. What does the same energy do?",
            "Without a spacer the handpiece is 10 mm too near or too far. What changes, and which way?",
            "Which of these can you measure before you begin?", NULL},
    .left_out =
        "A spot that is not flat, breath on a window, skin that is pressed. What the fluence then does in skin: brevis "
        "spread lists each slip with its heat.",
    .source =
        "Own geometry [error-budget, spatial-angle, computed]; 20 % of output [output-tolerance, second-hand]; cone "
        "and 10 mm are this project's choice.",
    .next = "Measure a spot on paper five times. Is your own slip above 5 %? brevis output reads such a list.",
    .solve = solve_slips,
    .tool = "spread",
    .reading = "Changes of the fluence on the skin, one slip at a time, everything else as planned.",
};

/* ---- what arrives ---- */

static void draw_arrives(struct brv_exercise *exercise, const struct brv_scenario *ask,
                         const struct brv_comparison *comparison)
{
    static const char *const names[3] = {"low end", "as displayed", "high end"};
    static const double aside[BRV_N_SITE] = {-0.06, 0.06}; /* so that bars do not cover each other */
    double x[BRV_N_SITE][3], y[3][BRV_N_SITE][3];
    char asked[BRV_FIGURE_TEXT];
    say_pulse(asked, ask);
    for (size_t site = 0; site < BRV_N_SITE; site++)
        for (size_t i = 0; i < 3; i++) {
            const struct brv_spread *share = &comparison->headline[i].at[site][BRV_HEADLINE_SHARE];
            x[site][i] = (double)(i + 1) + aside[site];
            y[0][site][i] = share->value;
            y[1][site][i] = share->low;
            y[2][site][i] = share->high;
        }
    struct brv_drawing drawing = {
        .x = {.column = "choice", .label = "", .scale = 1.0},
        .y = {.column = "disrupted_share", .label = "grains disrupted, %", .scale = 100.0, .to = 100.0},
        .names = names,
        .n_name = 3,
        .asked = asked,
        .caption =
            "The same number on the display: what it may be on the skin, and which share of the grains that disrupts. "
            "Bars: grains 0.316 to 3.16 times as dark, and criteria in print.",
        .n_curve = BRV_N_SITE};
    for (size_t k = 0; k < BRV_N_SITE; k++)
        drawing.curve[k] = (struct brv_drawing_curve){
            k == BRV_LESION ? "lesion" : "neighbour", 3, x[k], y[0][k], y[1][k], y[2][k], true};
    brv_drawing_add(exercise, &drawing);
}

static void say_arrives(struct brv_exercise *exercise, const struct brv_scenario *ask,
                        const struct brv_comparison *comparison, const struct brv_hazard *hazard, double error)
{
    const struct brv_headlines *low = &comparison->headline[0], *shown = &comparison->headline[1],
                               *high = &comparison->headline[2];
    const double share[3] = {100.0 * low->at[BRV_LESION][BRV_HEADLINE_SHARE].value,
                             100.0 * shown->at[BRV_LESION][BRV_HEADLINE_SHARE].value,
                             100.0 * high->at[BRV_LESION][BRV_HEADLINE_SHARE].value};
    brv_exercise_answer(
        exercise,
        "It is what the device believes. With a meter good to 20 %% and a spot good to 5 %% the %.2g J/cm2 on the "
        "display are %.3g to %.3g on the skin, and in the lesion %.2g to %.2g %% of the grains are disrupted.",
        1e-4 * ask->beam.fluence, 1e-4 * ask->beam.fluence * (1.0 - error), 1e-4 * ask->beam.fluence * (1.0 + error),
        share[0], share[2]);
    brv_exercise_step(exercise, "Squares add: 20 %% of energy and twice 5 %% of width make %.3g %%.", 100.0 * error);
    brv_exercise_step(
        exercise, "Heat is linear, so a grain's rise moves by as much: %.3g, %.3g, %.3g K without vaporisation.",
        low->at[BRV_LESION][BRV_HEADLINE_GRAIN_PEAK].value, shown->at[BRV_LESION][BRV_HEADLINE_GRAIN_PEAK].value,
        high->at[BRV_LESION][BRV_HEADLINE_GRAIN_PEAK].value);
    brv_exercise_step(exercise, "The share disrupted is not: %.2g, %.2g, %.2g %% of the grains.", share[0], share[1],
                      share[2]);
    brv_exercise_step(
        exercise,
        "Nor does all that arrives stay: the skin around scatters %.2g %% back (%.2g to %.2g), and its surface sends "
        "%.2g %% on as a mirror.",
        100.0 * hazard->reflectance.value, 100.0 * hazard->reflectance.low, 100.0 * hazard->reflectance.high,
        100.0 * hazard->mirrored);
    brv_exercise_step(
        exercise,
        "Pigment is less known than the device: grains 0.316 to 3.16 times as dark take the rise from %.3g to %.3g K, "
        "and "
        "with the criteria in print the share from %.2g to %.2g %%.",
        shown->at[BRV_LESION][BRV_HEADLINE_GRAIN_PEAK].low, shown->at[BRV_LESION][BRV_HEADLINE_GRAIN_PEAK].high,
        100.0 * shown->at[BRV_LESION][BRV_HEADLINE_SHARE].low, 100.0 * shown->at[BRV_LESION][BRV_HEADLINE_SHARE].high);
    draw_arrives(exercise, ask, comparison);
}

static brv_status solve_arrives(struct brv_exercise *exercise, const struct brv_choices *choices,
                                const struct brv_control *control, struct brv_error *error)
{
    const struct brv_scenario *ask = &choices->choice[0].request.scenario;
    const double open = brv_output_together(BRV_OUTPUT_METER_ERROR, BRV_OUTPUT_SPOT_ERROR);
    const double factor[3] = {1.0 - open, 1.0, 1.0 + open};
    struct brv_scenario made[3];
    struct brv_comparison comparison;
    struct brv_hazard hazard;
    for (size_t i = 0; i < 3; i++) {
        made[i] = *ask;
        made[i].beam.fluence *= factor[i];
        made[i].beam.energy *= factor[i];
    }
    brv_status status = brv_hazard_solve(&hazard, ask, error);
    if (!status) status = brv_compare_solve(&comparison, 3, made, control, error);
    if (status) return status;
    say_arrives(exercise, ask, &comparison, &hazard, open);
    brv_comparison_free(&comparison);
    return BRV_OK;
}

const struct brv_lesson brv_lesson_display_and_delivery = {
    .name = "display_and_delivery",
    .group = group,
    .question = "The display says half a joule per cm2. Is that what arrives?",
    .scenario = "lesson/display_and_delivery.yaml",
    .story =
        "A display shows a fluence. Between it and a pigment grain lie a meter that may be 20 % off, a spot known to "
        "5 %, and the surface of the skin.",
    .guess = {"yes, the device was calibrated", "within a few per cent",
              "within a fifth or so, and not all of it goes in", NULL},
    .ask = {"20 % of energy and 5 % of width: how much together, if neither knows of the other?",
            "A grain's rise follows the fluence. Does the share of grains that are disrupted follow it too?",
            "Where does the light go that the skin sends back?",
            "What would you write down to know your own device better?", NULL},
    .left_out =
        "A dirty window, a fibre that ages, a spot that is brighter in its middle. What the skin does afterwards.",
    .source = "20 % [output-tolerance, second-hand]; 5 % of a width measured by hand is this project's choice.",
    .next = "Your own readings: brevis output scenarios/readings/weekly_1064nm.csv scenarios/cheek_1064nm.yaml",
    .solve = solve_arrives,
    .tool = "run",
};
