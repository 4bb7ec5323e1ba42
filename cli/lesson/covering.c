/* Lessons on how spots lie on skin: geometry of an even hand, no heat. */
#include "lesson/lessons.h"

#include "lesson/drawing.h"
#include "lesson/phrase.h"
#include "side/cover.h"

#include <math.h>
#include <stdlib.h>

static const char group[] = "COVERING SKIN";
static const char reading[] =
    "Shares of the skin inside the area, for flat round spots and a hand that never wavers; a real "
    "hand does worse, by how much is not known here.";

/* Solves the covers of all choices; the caller frees them. */
static brv_status solve_covers(struct brv_cover **cover, const struct brv_choices *choices, struct brv_error *error)
{
    brv_status status = BRV_OK;
    *cover = calloc(choices->n, sizeof **cover);
    if (!*cover) return brv_error_raise(error, BRV_MEMORY, "lesson");
    for (size_t i = 0; i < choices->n && !status; i++)
        status = brv_cover_solve(&(*cover)[i], &choices->choice[i].request.scenario, error);
    return status;
}

static void free_covers(struct brv_cover *cover, size_t n)
{
    for (size_t i = 0; i < n && cover; i++) brv_cover_free(&cover[i]);
    free(cover);
}

static void name_choices(const char *name[BRV_MOST_CHOICES], const struct brv_choices *choices)
{
    for (size_t i = 0; i < choices->n; i++) name[i] = choices->choice[i].name;
}

/* "6 mm flat spots, 5 a second" */
static void say_spots(char out[BRV_FIGURE_TEXT], const struct brv_scenario *ask)
{
    char spot[BRV_NUMBER_SIZE];
    snprintf(out, BRV_FIGURE_TEXT, "flat spots of %s on %.3g cm2, %.3g pulses a second",
             brv_number_unit(spot, ask->beam.spot, BRV_LENGTH), 1e4 * ask->cover.area, ask->cover.rate);
}

static const struct brv_drawing_axis by_choice = {.column = "choice", .label = "", .scale = 1.0};
static const struct brv_drawing_axis of_skin = {
    .column = "share", .label = "share of the skin, %", .scale = 100.0, .to = 100.0};

/* ---- overlap ---- */

enum { MISSED, ONCE, TWICE, MORE, N_HITS };

static void draw_shares(struct brv_exercise *exercise, const struct brv_choices *choices, const struct brv_cover *cover)
{
    static const char *const name[N_HITS] = {"missed", "hit once", "hit twice", "three and more"};
    double x[BRV_MOST_CHOICES], y[N_HITS][BRV_MOST_CHOICES];
    const char *names[BRV_MOST_CHOICES];
    char asked[BRV_FIGURE_TEXT];
    struct brv_drawing drawing = {.x = by_choice,
                                  .y = of_skin,
                                  .names = names,
                                  .n_name = choices->n,
                                  .asked = asked,
                                  .caption = "Shares of the skin after one pass. Exact for these rows.",
                                  .n_curve = N_HITS};
    name_choices(names, choices);
    say_spots(asked, &choices->choice[0].request.scenario);
    for (size_t k = 0; k < N_HITS; k++) {
        for (size_t i = 0; i < choices->n; i++) {
            x[i] = (double)(i + 1);
            y[k][i] = cover[i].way[BRV_COVER_ONE].share[k];
        }
        drawing.curve[k] =
            (struct brv_drawing_curve){.name = name[k], .n = choices->n, .x = x, .y = y[k], .points = true};
    }
    brv_drawing_add(exercise, &drawing);
}

static void say_overlap(struct brv_exercise *exercise, const struct brv_choices *choices, const struct brv_cover *cover)
{
    enum { TOUCHING, TEN, TWENTY, THIRTY, SQUARE };
    const struct brv_covered *none = &cover[TOUCHING].way[BRV_COVER_ONE], *ten = &cover[TEN].way[BRV_COVER_ONE],
                             *twenty = &cover[TWENTY].way[BRV_COVER_ONE], *thirty = &cover[THIRTY].way[BRV_COVER_ONE],
                             *square = &cover[SQUARE].way[BRV_COVER_ONE];
    char a[BRV_NUMBER_SIZE], b[BRV_NUMBER_SIZE], c[BRV_NUMBER_SIZE], d[BRV_NUMBER_SIZE];
    brv_exercise_answer(
        exercise,
        "Every overlap has its price: at 10 %% overlap %s of the skin is hit twice and %s is still missed. "
        "Touching spots miss %s; "
        "30 %% overlap misses %s, and the skin gets %.3g pulses on average.",
        brv_phrase_percent(a, ten->share[TWICE]), brv_phrase_percent(b, ten->share[MISSED]),
        brv_phrase_percent(c, none->share[MISSED]), brv_phrase_percent(d, thirty->share[MISSED]), thirty->mean);
    brv_exercise_step(exercise,
                      "Mean hits of a place: %.3g touching, %.3g at 10 %%, %.3g at 20 %%, %.3g at 30 %%: 0.907/(1 - "
                      "overlap)^2 in hexagonal rows.",
                      none->mean, ten->mean, twenty->mean, thirty->mean);
    brv_exercise_step(exercise, "A mean is not a place. At 30 %% %s is hit once, %s twice, %s three times and more.",
                      brv_phrase_percent(a, thirty->share[ONCE]), brv_phrase_percent(b, thirty->share[TWICE]),
                      brv_phrase_percent(c, thirty->share[MORE]));
    brv_exercise_step(exercise, "Rows matter: at 10 %% square rows miss %s, hexagonal ones %s.",
                      brv_phrase_percent(a, square->share[MISSED]), brv_phrase_percent(b, ten->share[MISSED]));
    brv_exercise_step(
        exercise,
        "The last gap closes at 13.4 %% in hexagonal rows and at 29.3 %% in square ones [circle-packing]; at "
        "20 %% %s is missed and %s hit more than once.",
        brv_phrase_percent(a, twenty->share[MISSED]),
        brv_phrase_percent(b, twenty->share[TWICE] + twenty->share[MORE]));
    brv_exercise_step(exercise, "Closer spots take more pulses: %.0f, %.0f, %.0f and %.0f on the area.",
                      cover[TOUCHING].pulses, cover[TEN].pulses, cover[TWENTY].pulses, cover[THIRTY].pulses);
    draw_shares(exercise, choices, cover);
}

static brv_status solve_overlap(struct brv_exercise *exercise, const struct brv_choices *choices,
                                const struct brv_control *control, struct brv_error *error)
{
    (void)control;
    struct brv_cover *cover;
    const brv_status status = solve_covers(&cover, choices, error);
    if (!status) say_overlap(exercise, choices, cover);
    free_covers(cover, choices->n);
    return status;
}

const struct brv_lesson brv_lesson_overlap = {
    .name = "overlap",
    .group = group,
    .question = "How much should spots overlap, and what does a little overlap do?",
    .scenario = "lesson/overlap.yaml",
    .story = "One pass of round spots over 100 cm2: just touching, then closer, then in square rows. Counted is what "
             "a place gets.",
    .guess = {"a little overlap is nothing: each place gets one pulse",
              "a little overlap leaves gaps and doubles at once", "touching spots leave no gap", NULL},
    .ask = {"Draw three touching circles. Which share of the skin is the gap between them?",
            "Spots overlap by a tenth of their width. Which share of the skin gets two pulses?",
            "From which overlap on is no skin missed?",
            "Rows of squares, or of hexagons: which leave more gaps at the same overlap?", NULL},
    .left_out =
        "A hand that wavers, an edge of the spot that is not sharp, curved skin. No trial was seen that says which "
        "overlap is right; the usual spoken advice has no source.",
    .source = "Shares of touching circles [circle-packing, memory].",
    .next = "What do several passes do to the gaps? brevis lesson passes_by_chance",
    .solve = solve_overlap,
    .tool = "cover",
    .reading = reading,
};

/* ---- by chance ---- */

static void draw_chance(struct brv_exercise *exercise, const struct brv_choices *choices, const struct brv_cover *cover)
{
    double x[BRV_MOST_CHOICES], missed[BRV_MOST_CHOICES], spread[BRV_MOST_CHOICES];
    const char *names[BRV_MOST_CHOICES];
    char asked[BRV_FIGURE_TEXT];
    name_choices(names, choices);
    say_spots(asked, &choices->choice[0].request.scenario);
    for (size_t i = 0; i < choices->n; i++) {
        x[i] = (double)(i + 1);
        missed[i] = cover[i].way[BRV_COVER_ALL].share[MISSED];
        spread[i] = cover[i].way[BRV_COVER_ALL].variation;
    }
    const struct brv_drawing drawing = {
        .x = by_choice,
        .y = {.column = "share", .label = "missed; spread of dose over its mean, %", .scale = 100.0, .to = 110.0},
        .names = names,
        .n_name = choices->n,
        .asked = asked,
        .caption = "Skin that no pulse found, and how unevenly the dose lies, after all passes.",
        .n_curve = 2,
        .curve = {{.name = "missed", .n = choices->n, .x = x, .y = missed, .points = true},
                  {.name = "spread", .n = choices->n, .x = x, .y = spread, .points = true}}};
    brv_drawing_add(exercise, &drawing);
}

static void say_chance(struct brv_exercise *exercise, const struct brv_choices *choices, const struct brv_cover *cover)
{
    enum { ONE_PASS, THREE, SIX, TWELVE, ROWS };
    const struct brv_covered *one = &cover[ONE_PASS].way[BRV_COVER_ALL], *three = &cover[THREE].way[BRV_COVER_ALL],
                             *twelve = &cover[TWELVE].way[BRV_COVER_ALL], *rows = &cover[ROWS].way[BRV_COVER_ALL];
    const double many = brv_tally_between(&three->hits, 3.5, INFINITY);
    char a[BRV_NUMBER_SIZE], b[BRV_NUMBER_SIZE], c[BRV_NUMBER_SIZE], d[BRV_NUMBER_SIZE];
    brv_exercise_answer(
        exercise,
        "Slowly. After three passes %s is still missed and %s has had four pulses and more; the dose %s from "
        "place to place by %s of its mean, after twelve by %s.",
        brv_phrase_percent(a, three->share[MISSED]), brv_phrase_percent(b, many),
        brv_phrase_order(three->variation, 0.1, "hardly varies", "varies", "varies"),
        brv_phrase_percent(c, three->variation), brv_phrase_percent(d, twelve->variation));
    brv_exercise_step(exercise,
                      "Hits by chance follow Poisson: missed is exp(-mean). One pass of mean %.3g misses %s, three of "
                      "%.3g miss %s.",
                      one->mean, brv_phrase_percent(a, one->share[MISSED]), three->mean,
                      brv_phrase_percent(b, three->share[MISSED]));
    brv_exercise_step(
        exercise, "Spread over mean is 1/sqrt(mean hits): %s after one pass (1/sqrt gives %s), %s after twelve (%s).",
        brv_phrase_percent(a, one->variation), brv_phrase_percent(b, 1.0 / sqrt(one->mean)),
        brv_phrase_percent(c, twelve->variation), brv_phrase_percent(d, 1.0 / sqrt(twelve->mean)));
    brv_exercise_step(exercise, "So four times as many passes halve the unevenness, at four times the dose.");
    brv_exercise_step(exercise, "The same three passes in rows, none minding the others: %s missed, spread %s.",
                      brv_phrase_percent(a, rows->share[MISSED]), brv_phrase_percent(b, rows->variation));
    brv_exercise_step(exercise, "Summed over all passes the skin gets %.3g, %.3g, %.3g and %.3g J/cm2 on average.",
                      1e-4 * cover[ONE_PASS].fluence, 1e-4 * cover[THREE].fluence, 1e-4 * cover[SIX].fluence,
                      1e-4 * cover[TWELVE].fluence);
    draw_chance(exercise, choices, cover);
}

static brv_status solve_chance(struct brv_exercise *exercise, const struct brv_choices *choices,
                               const struct brv_control *control, struct brv_error *error)
{
    (void)control;
    struct brv_cover *cover;
    const brv_status status = solve_covers(&cover, choices, error);
    if (!status) say_chance(exercise, choices, cover);
    free_covers(cover, choices->n);
    return status;
}

const struct brv_lesson brv_lesson_passes_by_chance = {
    .name = "passes_by_chance",
    .group = group,
    .question = "Do several passes without rows even everything out?",
    .scenario = "lesson/passes_by_chance.yaml",
    .story = "Spots fall anywhere, about one on every place with each pass: one pass, three, six, twelve; last, three "
             "passes in rows.",
    .guess = {"three passes even it out", "no: after three passes some skin has had none, some four",
              "a random hand is as even as rows", NULL},
    .ask = {"Throw 10 coins into 10 squares. How many squares stay empty?",
            "Three pulses on every place on average: which share has had none?",
            "How many passes halve the unevenness of one pass?", NULL},
    .left_out = "A hand that remembers where it was is better than chance; heat of the last pulse that is still there.",
    .source = "Poisson's law [poisson-distribution, memory].",
    .next = "And faster pulses? brevis lesson twice_the_rate",
    .solve = solve_chance,
    .tool = "cover",
    .reading = reading,
};

/* ---- twice the rate ---- */

static void draw_rate(struct brv_exercise *exercise, const struct brv_choices *choices, const struct brv_cover *cover)
{
    static const char *const names[N_HITS] = {"missed", "once", "twice", "three and more"};
    double x[N_HITS], y[2][N_HITS];
    char asked[BRV_FIGURE_TEXT];
    say_spots(asked, &choices->choice[0].request.scenario);
    for (size_t k = 0; k < N_HITS; k++) {
        x[k] = (double)(k + 1);
        y[0][k] = cover->way[BRV_COVER_ONE].share[k];
        y[1][k] = cover->way[BRV_COVER_FASTER].share[k];
    }
    const struct brv_drawing drawing = {
        .x = by_choice,
        .y = of_skin,
        .names = names,
        .n_name = N_HITS,
        .asked = asked,
        .caption = "Hits of the skin in one pass, at the rate of the scenario and at twice that with the same hand.",
        .n_curve = 2,
        .curve = {{.name = "rate as it was", .n = N_HITS, .x = x, .y = y[0], .points = true},
                  {.name = "twice the rate", .n = N_HITS, .x = x, .y = y[1], .points = true}}};
    brv_drawing_add(exercise, &drawing);
}

enum { N_SHIFT = 3 };

/* Skin hit three times and more at twice the rate, with rows shifted by 0, 1/4 and 1/2 of the new distance from spot to
 * spot: after a change of rate nobody knows which [1].                                                             */
static brv_status solve_shifted(double more[N_SHIFT], const struct brv_cover *cover, double spot,
                                struct brv_error *error)
{
    brv_status status = BRV_OK;
    for (size_t i = 0; i < N_SHIFT && !status; i++) {
        struct brv_rows rows = brv_rows_hurried(&cover->rows, 2.0);
        struct brv_tally hits;
        rows.aside = 0.25 * (double)i * rows.along;
        status = brv_rows_tally_hits(&hits, &rows, spot, error);
        if (status) break;
        more[i] = brv_tally_between(&hits, 2.5, INFINITY);
        brv_tally_free(&hits);
    }
    return status;
}

static void say_rate(struct brv_exercise *exercise, const struct brv_choices *choices, const struct brv_cover *cover,
                     const double more[N_SHIFT])
{
    const struct brv_cover_ask *ask = &choices->choice[0].request.scenario.cover;
    const struct brv_covered *before = &cover->way[BRV_COVER_ONE], *after = &cover->way[BRV_COVER_FASTER];
    char a[BRV_NUMBER_SIZE], b[BRV_NUMBER_SIZE], c[BRV_NUMBER_SIZE];
    brv_exercise_answer(exercise,
                        "With the same hand it saves no time and doubles the dose: %.3g instead of %.3g hits on "
                        "average, and %s to %s of "
                        "the skin hit three times and more, by how rows lie to each other, instead of %s.",
                        after->mean, before->mean, brv_phrase_percent(a, fmin(more[0], fmin(more[1], more[2]))),
                        brv_phrase_percent(c, fmax(more[0], fmax(more[1], more[2]))),
                        brv_phrase_percent(b, before->share[MORE]));
    brv_exercise_step(
        exercise,
        "The hand does not know how its rows lie: shifted by 0, 1/4 and 1/2 of the new distance from spot "
        "to spot, %s, %s and %s are hit three times and more. The figure is for the first.",
        brv_phrase_percent(a, more[0]), brv_phrase_percent(b, more[1]), brv_phrase_percent(c, more[2]));
    brv_exercise_step(exercise, "At %.3g a second the hand goes %.3g mm/s for an overlap of %s.", ask->rate,
                      1e3 * cover->hand, brv_phrase_percent(a, ask->overlap));
    brv_exercise_step(exercise, "At %.3g a second and the same %.3g mm/s the spots overlap by %s along the row.",
                      2.0 * ask->rate, 1e3 * cover->hand, brv_phrase_percent(a, cover->overlap_faster));
    brv_exercise_step(exercise, "The pass takes as long as before, %.3g s: rows and hand have not changed.",
                      cover->time);
    brv_exercise_step(exercise, "To save the time the hand must go twice as fast, %.3g mm/s; then the dose stays.",
                      2e3 * cover->hand);
    brv_exercise_step(exercise, "Mean fluence summed over the pass: %.3g J/cm2, then %.3g.", 1e-4 * cover->fluence,
                      1e-4 * cover->fluence * after->mean / before->mean);
    draw_rate(exercise, choices, cover);
}

static brv_status solve_rate(struct brv_exercise *exercise, const struct brv_choices *choices,
                             const struct brv_control *control, struct brv_error *error)
{
    (void)control;
    struct brv_cover *cover;
    double more[N_SHIFT];
    brv_status status = solve_covers(&cover, choices, error);
    if (!status) status = solve_shifted(more, cover, choices->choice[0].request.scenario.beam.spot, error);
    if (!status) say_rate(exercise, choices, cover, more);
    free_covers(cover, choices->n);
    return status;
}

const struct brv_lesson brv_lesson_twice_the_rate = {
    .name = "twice_the_rate",
    .group = group,
    .question = "Does a faster rate only save time?",
    .scenario = "lesson/twice_the_rate.yaml",
    .story =
        "A hand slides along rows at five pulses a second. Then the rate is turned to ten; the hand goes on as it did.",
    .guess = {"yes: the same spots in half the time", "no: the same time, and spots on top of each other",
              "half the time and half the dose", NULL},
    .ask = {"How far does the hand go from pulse to pulse, before and after?",
            "How long does a pass take, before and after?",
            "What happens to the mean number of hits, and what to the place that had most?",
            "What must the hand do if time is to be saved?", NULL},
    .left_out = "Heat of the pulse before: brevis lesson ten_a_second. A hand that follows the sound of the pulses.",
    .source = "",
    .next = "Which overlap along the row had you, if you do not know the speed of your hand? Film it once.",
    .solve = solve_rate,
    .tool = "cover",
    .reading = reading,
};
