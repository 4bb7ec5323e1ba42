/* Lessons on how long a pulse lasts. */
#include "lesson/lessons.h"

#include "base/constants.h"
#include "effect/confinement.h"
#include "effect/relaxation.h"
#include "lesson/curve.h"
#include "lesson/drawing.h"
#include "lesson/phrase.h"

#include <math.h>
#include <string.h>

static const char group[] = "HOW LONG THE PULSE LASTS";

/* How far heat spreads in a time, sqrt(4 alpha t) [m]. */
static double spread_of_heat(double time)
{
    return sqrt(4.0 * BRV_TRADE_DIFFUSIVITY * time);
}

/* From the end of the pulse until the grain's own mean, with all that its layer has, is down to 1/e of what its heat would
 * have made of it without conduction. Its lead over the layer is down sooner, for the grain cools towards its layer and
 * not towards nothing. NAN: the layer alone is above that [s].                                                     */
static double own_mean_efold(const struct brv_compared *compared, size_t choice)
{
    const struct brv_result *result = &compared->comparison->result[choice];
    const struct brv_history *history = &result->site[BRV_LESION].history;
    const double *mean = brv_history_rise(history, BRV_PROBE_MEAN), end = brv_pulse_end(&result->ask.pulse);
    return brv_history_fall(history, mean, end, result->site[BRV_LESION].effect.adiabatic_rise * exp(-1.0)) - end;
}

/* ---- why nanoseconds ---- */

static void draw_why_nanoseconds(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    char asked[BRV_ASKED_SIZE];
    const struct brv_drawing drawing = {
        .x = {.column = "time_s",
              .label = "time since the pulse began",
              .scale = 1.0,
              .log = true,
              .seconds = true,
              .from = 1e-9,
              .to = 10.0},
        .y = {.column = "rise_K", .label = "rise in the lesion, K", .scale = 1.0},
        .n_curve = 4,
        .curve = {brv_curve_time(compared, 0, BRV_LESION, BRV_PROBE_MEAN, "grain, 7 ns"),
                  brv_curve_time(compared, 1, BRV_LESION, BRV_PROBE_MEAN, "grain, 300 ns"),
                  brv_curve_time(compared, 2, BRV_LESION, BRV_PROBE_MEAN, "grain, 1 ms"),
                  brv_curve_time(compared, 0, BRV_LESION, BRV_PROBE_LAYER, "its layer, 7 ns")},
        .asked = brv_compared_asked(asked, compared),
        .caption = "One fluence in three pulses: a grain of the lesion, and its layer. Without vaporisation."};
    brv_drawing_add(exercise, &drawing);
}

static void teach_why_nanoseconds(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    enum { SHORT, MIDDLE, LONG };
    const struct brv_effect *effect = &compared->comparison->result[SHORT].site[BRV_LESION].effect;
    char all[BRV_SHEET_LINE_SIZE], one[BRV_TERM_SIZE], two[BRV_TERM_SIZE], three[BRV_NUMBER_SIZE];
    const double slow_grain = brv_phrase_value(compared, LONG, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK);
    const double slow_layer = brv_phrase_value(compared, LONG, BRV_LESION, BRV_HEADLINE_LAYER_PEAK);

    brv_exercise_answer(
        exercise, "%s The same light in 7 ns gives the grain %s, and its layer %s, the rise that it gives in 1 ms.",
        effect->pulse < effect->cooling.mean_efold
            ? "Because the grain cools in nanoseconds: a shorter pulse is over before much heat has left it."
            : "Not for this grain: it cools faster than the pulse lasts.",
        brv_phrase_ratio(one, compared, SHORT, LONG, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK),
        brv_phrase_ratio(two, compared, SHORT, LONG, BRV_LESION, BRV_HEADLINE_LAYER_PEAK));
    brv_exercise_step(
        exercise,
        "Heated at once, this grain of 0.5 um has its lead over its layer down to 1/e after %s; its own mean, which "
        "falls to the layer's only, has 1/e of its heat's worth %s after the 7 ns. As they end, the grain has %.0f %% "
        "of "
        "the lead that it would have without conduction.",
        brv_number_unit(one, effect->cooling.mean_efold, BRV_TIME),
        brv_number_unit(two, own_mean_efold(compared, SHORT), BRV_TIME), 100.0 * effect->held);
    brv_exercise_step(exercise, "Heat goes sqrt(4 alpha t) far: %s in 7 ns, %s in 300 ns, %s in 1 ms.",
                      brv_number_unit(one, spread_of_heat(7e-9), BRV_LENGTH),
                      brv_number_unit(two, spread_of_heat(300e-9), BRV_LENGTH),
                      brv_number_unit(three, spread_of_heat(1e-3), BRV_LENGTH));
    brv_exercise_step(exercise, "Highest rise of a grain: %s.",
                      brv_phrase_all(all, compared, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK));
    brv_exercise_step(
        exercise, "Highest rise of its layer: %s. In 1 ms grain and layer differ by %.2g K: the heat is shared.",
        brv_phrase_all(all, compared, BRV_LESION, BRV_HEADLINE_LAYER_PEAK), fabs(slow_grain - slow_layer));
    brv_exercise_step(exercise, "A vessel of 100 um needs d2/16k, %s: what is short for it is endless for a grain.",
                      brv_number_unit(one, brv_relaxation_time(16.0, 100e-6, BRV_TRADE_DIFFUSIVITY), BRV_TIME));
    draw_why_nanoseconds(exercise, compared);
}

const struct brv_lesson brv_lesson_why_nanoseconds = {
    .name = "why_nanoseconds",
    .group = group,
    .question = "Why nanoseconds, when a millisecond brings the same light?",
    .scenario = "lesson/why_nanoseconds.yaml",
    .story = "One pulse falls on a sun spot, in 7 ns, or in 300 ns, or in 1 ms; the fluence is the same. Its pigment "
             "grains are 0.5 um wide.",
    .guess = {"the grain gets equally hot in all three: light is light",
              "the grain gets hottest in 1 ms: there is more time to heat it",
              "the grain gets hottest in 7 ns, and its layer hotter too, but by less", NULL},
    .ask = {"How long does a grain of 0.5 um keep its heat: nanoseconds, microseconds, milliseconds?",
            "Where is the heat when the long pulse ends?", "How far does heat get in 7 ns, and in 1 ms?",
            "A vessel of 100 um cools in milliseconds. Which pulse would suit it, and why not the grain's?", NULL},
    .left_out = "Boiling: above 112 C the grain's figure is energy over heat capacity. What the skin does afterwards.",
    .source = "alpha = 1.3e-7 m2/s, usual in such formulas [trade-diffusivity, memory].",
    .next = "How short is short enough? brevis lesson how_short",
    .teach = teach_why_nanoseconds,
};

/* ---- which relaxation time ---- */

enum { N_DEFINITION = 5, N_GRAIN = 3 };

static const double kappas[N_DEFINITION - 1] = {16.0, 22.2289, 27.0, 39.9172};

static void draw_relaxation(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    static const char *const names[N_DEFINITION] = {"d2/16k", "d2/22k: ball, mean to 1/e", "d2/27k",
                                                    "d2/40k: ball, mean to half", "this run: lead to 1/e"};
    double x[N_GRAIN][N_DEFINITION], time[N_GRAIN][N_DEFINITION];
    char asked[BRV_ASKED_SIZE];
    struct brv_drawing drawing = {
        .x = {.column = "definition", .label = "", .scale = 1.0},
        .y = {.column = "relaxation_s", .label = "relaxation time", .scale = 1.0, .log = true, .seconds = true},
        .names = names,
        .n_name = N_DEFINITION,
        .n_curve = N_GRAIN,
        .asked = brv_compared_asked(asked, compared),
        .caption =
            "One grain, five answers; three sizes. The last, of the grain's lead over its layer, is of this run."};
    for (size_t i = 0; i < N_GRAIN; i++) {
        const struct brv_effect *effect = &compared->comparison->result[i].site[BRV_LESION].effect;
        for (size_t k = 0; k < N_DEFINITION; k++) {
            x[i][k] = (double)(k + 1);
            time[i][k] = k < N_DEFINITION - 1 ? brv_relaxation_time(kappas[k], effect->diameter, BRV_TRADE_DIFFUSIVITY)
                                              : effect->cooling.mean_efold;
        }
        drawing.curve[i] = (struct brv_drawing_curve){
            .name = compared->choices->choice[i].name, .n = N_DEFINITION, .x = x[i], .y = time[i], .points = true};
    }
    brv_drawing_add(exercise, &drawing);
}

/* Pigment in the grain's layer, by volume [1]. */
static double pigment_around(const struct brv_result *result)
{
    const struct brv_tissue *tissue = &result->site[BRV_LESION].tissue;
    return tissue->layer[tissue->grain.layer].melanosomes;
}

static void teach_relaxation(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    enum { MIDDLE, SMALL, LARGE };
    const struct brv_result *result = compared->comparison->result;
    const struct brv_effect *effect = &result[MIDDLE].site[BRV_LESION].effect;
    const struct brv_cooling *cooling = &effect->cooling;
    const double small = result[SMALL].site[BRV_LESION].effect.cooling.mean_efold;
    const double large = result[LARGE].site[BRV_LESION].effect.cooling.mean_efold;
    char all[BRV_SHEET_LINE_SIZE], text[4][BRV_NUMBER_SIZE];
    double formula[2][N_DEFINITION - 1]; /* of this grain, of one of 1 um */
    for (size_t k = 0; k < N_DEFINITION - 1; k++) {
        formula[0][k] = brv_relaxation_time(kappas[k], effect->diameter, BRV_TRADE_DIFFUSIVITY);
        formula[1][k] = brv_relaxation_time(kappas[k], 1e-6, BRV_TRADE_DIFFUSIVITY);
    }

    brv_exercise_answer(
        exercise,
        "It is a definition, not a property: for one grain of 0.5 um four formulas give %s to %s, a factor "
        "of %.2g. Each "
        "is right for its own body and its own 'cooled'.",
        brv_number_unit(text[0], formula[0][N_DEFINITION - 2], BRV_TIME),
        brv_number_unit(text[1], formula[0][0], BRV_TIME), formula[0][0] / formula[0][N_DEFINITION - 2]);
    brv_exercise_step(
        exercise,
        "d2/16k: %s for 0.5 um, %s for 1 um; it is the centre of a Gaussian cylinder down to a half. d2/27k: "
        "%s and %s; "
        "the same of a Gaussian ball.",
        brv_number_unit(text[0], formula[0][0], BRV_TIME), brv_number_unit(text[1], formula[1][0], BRV_TIME),
        brv_number_unit(text[2], formula[0][2], BRV_TIME), brv_number_unit(text[3], formula[1][2], BRV_TIME));
    brv_exercise_step(
        exercise,
        "An evenly heated ball alone in tissue, its mean: down to 1/e after d2/22k, %s; to half after d2/40k, %s.",
        brv_number_unit(text[0], formula[0][1], BRV_TIME), brv_number_unit(text[1], formula[0][3], BRV_TIME));
    brv_exercise_step(
        exercise,
        "The model uses none of them: it follows the heat. Its grain of 0.5 um has others near, %.3g %% pigment: "
        "its LEAD over the layer is down to 1/e after %s by the mean (%s by the centre), to half after %s. Its own "
        "mean, "
        "which falls to the layer's only, has 1/e of its heat's worth %s after the 7 ns.",
        100.0 * pigment_around(&result[MIDDLE]), brv_number_unit(text[0], cooling->mean_efold, BRV_TIME),
        brv_number_unit(text[1], cooling->centre_efold, BRV_TIME),
        brv_number_unit(text[2], cooling->mean_half, BRV_TIME),
        brv_number_unit(text[3], own_mean_efold(compared, MIDDLE), BRV_TIME));
    brv_exercise_step(
        exercise,
        "Size counts by its square, for the lead: %s at 0.25 um, %s at 1 um; four times the width, %s as "
        "long. Neighbours count too: with less pigment, as in lesson why_nanoseconds, this grain's lead lasts "
        "longer.",
        brv_number_unit(text[0], small, BRV_TIME), brv_number_unit(text[1], large, BRV_TIME),
        brv_phrase_times(text[2], large, small));
    brv_exercise_step(exercise, "Highest rise of a grain under the same 7 ns: %s.",
                      brv_phrase_all(all, compared, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK));
    brv_exercise_step(exercise,
                      "So ask a text: by which formula, for what diameter, of the centre or the mean, down to what?");
    draw_relaxation(exercise, compared);
}

const struct brv_lesson brv_lesson_relaxation_time = {
    .name = "relaxation_time",
    .group = group,
    .question = "What is the relaxation time of a grain, and why do two books differ?",
    .scenario = "lesson/relaxation_time.yaml",
    .story =
        "Grains of 0.25, 0.5 and 1 um under 7 ns. Relaxation time is d2/(kappa k), d the diameter, k = 1.3e-7 m2/s.",
    .guess = {"there is one right kappa; the other book is wrong", "each kappa is right, for another question",
              "kappa does not matter: the times hardly differ", NULL},
    .ask = {"Work out d2/16k and d2/27k for 1 um and for 0.5 um.",
            "Half, or 1/e? Of the centre, or of the mean? Which lasts longest?",
            "A grain of twice the width: how much longer does it keep its heat?",
            "A text says 'shorter than the relaxation time'. What must you ask?", NULL},
    .left_out = "Grains are no balls, and have a shell and neighbours of other sizes.",
    .source = "k [trade-diffusivity, memory]; the kappas are exact for their bodies [relaxation-kappa, computed]; that "
              "texts use "
              "16 and 27 is common practice, no source.",
    .next = "Take the width of your own pulse: for which grain is it short? Set grain.diameter until pulse over "
            "relaxation is 1.",
    .teach = teach_relaxation,
};

/* ---- shorter is not always better ---- */

enum { N_WIDTH = 9 };

static void draw_shorter(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    double width[N_WIDTH], heat[N_WIDTH], pressure[N_WIDTH], most_heat = 0.0, most_pressure = 0.0;
    char asked[BRV_ASKED_SIZE];
    const size_t n = compared->comparison->n < N_WIDTH ? compared->comparison->n : N_WIDTH;
    for (size_t i = 0; i < n; i++) {
        width[i] = compared->comparison->result[i].ask.pulse.width;
        heat[i] = brv_phrase_value(compared, i, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK);
        pressure[i] = brv_phrase_value(compared, i, BRV_LESION, BRV_HEADLINE_PRESSURE);
        most_heat = fmax(most_heat, heat[i]);
        most_pressure = fmax(most_pressure, pressure[i]);
    }
    for (size_t i = 0; i < n; i++) {
        heat[i] /= most_heat;
        pressure[i] /= most_pressure;
    }
    const struct brv_drawing drawing = {
        .x = {.column = "pulse_s", .label = "pulse width", .scale = 1.0, .log = true, .seconds = true},
        .y = {.column = "share_of_highest", .label = "share of the highest, %", .scale = 100.0, .to = 110.0},
        .n_curve = 2,
        .curve = {{.name = "rise of the grain", .n = n, .x = width, .y = heat, .points = true},
                  {.name = "pressure in it", .n = n, .x = width, .y = pressure, .points = true}},
        .mark = compared->comparison->result[0].site[BRV_LESION].effect.stress_time,
        .mark_name = "sound across the grain",
        .asked = brv_compared_asked(asked, compared),
        .caption = "Rise and pressure, each over its highest. The pressure is good to a factor of 3 either way."};
    brv_drawing_add(exercise, &drawing);
}

/* The choice with this pulse width; the first where none has it. */
static size_t choice_of_width(const struct brv_compared *compared, double width)
{
    for (size_t i = 0; i < compared->comparison->n; i++)
        if (fabs(compared->comparison->result[i].ask.pulse.width / width - 1.0) < 1e-6) return i;
    return 0;
}

static void teach_shorter(struct brv_exercise *exercise, const struct brv_compared *compared)
{
    const size_t micro = choice_of_width(compared, 1e-6), seven = choice_of_width(compared, 7e-9),
                 half = choice_of_width(compared, 0.5e-9), last = choice_of_width(compared, 50e-12);
    const struct brv_effect *effect = &compared->comparison->result[seven].site[BRV_LESION].effect;
    const struct brv_headlines *headline = compared->comparison->headline;
    const struct brv_spread *pressure[2] = {&headline[seven].at[BRV_LESION][BRV_HEADLINE_PRESSURE],
                                            &headline[last].at[BRV_LESION][BRV_HEADLINE_PRESSURE]};
    char one[BRV_TERM_SIZE], two[BRV_TERM_SIZE], three[BRV_TERM_SIZE], four[BRV_TERM_SIZE];
    double heat[4];
    const size_t choice[4] = {micro, seven, half, last};
    for (size_t i = 0; i < 4; i++) heat[i] = brv_phrase_value(compared, choice[i], BRV_LESION, BRV_HEADLINE_GRAIN_PEAK);

    brv_exercise_answer(
        exercise,
        "%s: in 7 ns the grain's rise is %s that in 1 us, but from 0.5 ns down to 50 ps it changes by %.1f %% "
        "only. The pressure in it, at 50 ps, is %s that at 7 ns (%.2g to %.3g, for each is known to a factor of 3).",
        heat[3] < (1.0 + BRV_PHRASE_ALIKE) * heat[2] ? "Not for heat" : "For heat, yes",
        brv_phrase_ratio(one, compared, seven, micro, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK),
        100.0 * (heat[3] / heat[2] - 1.0), brv_phrase_times(two, pressure[1]->value, pressure[0]->value),
        pressure[1]->low / pressure[0]->high, pressure[1]->high / pressure[0]->low);
    brv_exercise_step(exercise,
                      "The lead of this grain of 1 um over its layer is down to 1/e after %s. A pulse far below that "
                      "has nothing more "
                      "to save.",
                      brv_number_unit(one, effect->cooling.mean_efold, BRV_TIME));
    brv_exercise_step(exercise, "Highest rise of a grain: 1 us %s; 7 ns %s; 0.5 ns %s; 50 ps %s.",
                      brv_phrase_headline(one, compared, micro, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK),
                      brv_phrase_headline(two, compared, seven, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK),
                      brv_phrase_headline(three, compared, half, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK),
                      brv_phrase_headline(four, compared, last, BRV_LESION, BRV_HEADLINE_GRAIN_PEAK));
    brv_exercise_step(
        exercise,
        "Sound crosses it in d/c = %s. 7 ns is %.2g times that, 0.5 ns %.2g times. Below 1 time the grain is "
        "hot before it can swell, and pressure builds up.",
        brv_number_unit(one, effect->stress_time, BRV_TIME), effect->pulse / effect->stress_time,
        0.5e-9 / effect->stress_time);
    brv_exercise_step(exercise, "Pressure in a grain, a factor of 3 either way: 7 ns %s; 0.5 ns %s; 50 ps %s.",
                      brv_phrase_headline(one, compared, seven, BRV_LESION, BRV_HEADLINE_PRESSURE),
                      brv_phrase_headline(two, compared, half, BRV_LESION, BRV_HEADLINE_PRESSURE),
                      brv_phrase_headline(three, compared, last, BRV_LESION, BRV_HEADLINE_PRESSURE));
    brv_exercise_step(exercise, "The layer %s: its highest rise is %s at 7 ns and %s at 50 ps.",
                      brv_phrase_order(brv_phrase_value(compared, last, BRV_LESION, BRV_HEADLINE_LAYER_PEAK),
                                       brv_phrase_value(compared, seven, BRV_LESION, BRV_HEADLINE_LAYER_PEAK),
                                       "gets less", "does not care", "gets more"),
                      brv_phrase_headline(one, compared, seven, BRV_LESION, BRV_HEADLINE_LAYER_PEAK),
                      brv_phrase_headline(two, compared, last, BRV_LESION, BRV_HEADLINE_LAYER_PEAK));
    draw_shorter(exercise, compared);
}

const struct brv_lesson brv_lesson_how_short = {
    .name = "how_short",
    .group = group,
    .question = "Is a shorter pulse always better?",
    .scenario = "lesson/how_short.yaml",
    .story = "One fluence, so low that nothing boils, from 1 us down to 50 ps. The grain is 1 um wide.",
    .guess = {"every halving of the pulse makes the grain much hotter",
              "the heat levels off somewhere, and something else goes on growing",
              "heat and everything else level off at the relaxation time", NULL},
    .ask = {"When is a pulse so short that no heat leaves the grain meanwhile?",
            "Sound takes d/c to cross a grain, c = 1500 m/s. Work it out for 1 um.",
            "Which of 7 ns and 0.5 ns is shorter than that?",
            "What would you expect in skin from pressure that has no time to leave?", NULL},
    .left_out = "What pressure does: bubbles, plasma, cracks. No threshold here stands for them.",
    .source = "c = 1500 m/s [photoacoustic, memory]; the pressure's formula and its factor of 3 [photoacoustic].",
    .next = "Do it for a grain of 0.13 um (grain.diameter): is 7 ns still short? And 0.5 ns for sound?",
    .teach = teach_shorter,
};
