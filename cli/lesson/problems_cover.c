/* Problems about laying spots on skin, tilting, and errors that come together. */
#include "lesson/problems.h"

#include "scenario/scenario.h"
#include "side/cover.h"
#include "side/output.h"
#include "study/slip.h"

#include <math.h>
#include <stdio.h>

#define SAY(value, unit) brv_problem_say(maker, value, unit)

#define SKIN_INDEX 1.40 /* epidermis. Source: [skin-index] */
#define DEGREE     0.017453292519943295

/* ---- tilt ---- */

brv_status brv_problem_tilt(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    const double tilt = brv_problem_given(
        maker, 30.0 * DEGREE,
        BRV_CHOICES(10.0 * DEGREE, 15.0 * DEGREE, 20.0 * DEGREE, 25.0 * DEGREE, 40.0 * DEGREE, 45.0 * DEGREE));
    const double factor = brv_slip_tilt(tilt, 1.0, 1.0); /* no step of the index: the footprint alone */
    const double enters = brv_slip_tilt(tilt, 1.0, SKIN_INDEX);
    brv_problem_ask(
        maker,
        "The handpiece is tilted by %s. By which factor does the fluence change, how much longer does the round "
        "spot become, and by which factor does the light change that enters skin of index %s (Fresnel, not polarised)?",
        SAY(tilt, "deg"), SAY(SKIN_INDEX, ""));
    brv_problem_step(maker, "The same energy lies on a spot that is longer by 1/cos: %s times.", SAY(1.0 / factor, ""));
    brv_problem_step(maker, "Fluence: cos = %s, %s less.", SAY(factor, ""), SAY(1.0 - factor, "%"));
    brv_problem_step(maker, "The surface sends back a little more of tilted light: what enters is %s of straight on.",
                     SAY(enters, ""));
    struct brv_problem_key *key = brv_problem_answer(maker, factor, "", "factor of the fluence");
    brv_problem_printed(maker, key, 0.866, 5e-4, "spatial-angle", "computed");
    key = brv_problem_answer(maker, 1.0 / factor, "", "length of the spot over its width");
    brv_problem_printed(maker, key, 1.155, 5e-4, "spatial-angle", "computed");
    key = brv_problem_answer(maker, enters, "", "light that enters over straight on");
    brv_problem_printed(maker, key, 0.8649, 5e-5, "spatial-angle", "computed");
    return BRV_OK;
}

/* ---- one pass ---- */

/* Mean hits, share missed and share hit once of one pass of flat spots. */
struct pass {
    double hits, missed, once;
};

static brv_status lay(struct pass *pass, int lattice, double overlap, struct brv_error *error)
{
    struct brv_tally tally;
    const struct brv_rows rows = brv_rows_laid(lattice, 1.0, overlap);
    const brv_status status = brv_rows_tally_hits(&tally, &rows, 1.0, error);
    if (status) return status;
    *pass = (struct pass){brv_rows_hits(&rows, 1.0), brv_tally_between(&tally, 0.0, 0.5),
                          brv_tally_between(&tally, 0.5, 1.5)};
    brv_tally_free(&tally);
    return BRV_OK;
}

brv_status brv_problem_overlap(struct brv_problem_maker *maker, struct brv_error *error)
{
    const double overlap = brv_problem_given(maker, 0.2, BRV_CHOICES(0.05, 0.1, 0.15, 0.25, 0.3, 0.4));
    struct pass pass;
    const brv_status status = lay(&pass, BRV_HEXAGONAL, overlap, error);
    if (status) return status;
    brv_problem_ask(
        maker,
        "Flat round spots in hexagonal rows overlap by %s of their width. How many hits has a place on average "
        "after one pass?",
        SAY(overlap, "%"));
    brv_problem_step(maker, "Touching circles cover 0.9069; spots closer by %s come 1/(1 - overlap)^2 times as often.",
                     SAY(overlap, "%"));
    brv_problem_step(maker, "Mean: %s hits, so %s times the fluence of one pulse.", SAY(pass.hits, ""),
                     SAY(pass.hits, ""));
    brv_problem_step(maker, "A mean is not a place: %s is missed, %s hit once, %s more than once.",
                     SAY(pass.missed, "%"), SAY(pass.once, "%"), SAY(1.0 - pass.missed - pass.once, "%"));
    struct brv_problem_key *key = brv_problem_answer(maker, pass.hits, "", "mean hits");
    brv_problem_printed(maker, key, 1.417, 5e-4, "course-problems", "computed");
    return BRV_OK;
}

brv_status brv_problem_touching(struct brv_problem_maker *maker, struct brv_error *error)
{
    const double area = brv_problem_given(maker, 100e-4, BRV_CHOICES(20e-4, 40e-4, 50e-4, 80e-4, 150e-4, 200e-4));
    struct pass hexagonal, square;
    brv_status status = lay(&hexagonal, BRV_HEXAGONAL, 0.0, error);
    if (!status) status = lay(&square, BRV_SQUARE_LATTICE, 0.0, error);
    if (status) return status;
    brv_problem_ask(
        maker,
        "Round spots just touch, in hexagonal rows or in square ones, on %s of skin. Which share is missed, and "
        "how many cm2 are that?",
        SAY(area, "cm2"));
    brv_problem_step(maker, "Hexagonal rows cover pi/(2 sqrt 3) of a plane, square ones pi/4: %s and %s are missed.",
                     SAY(hexagonal.missed, "%"), SAY(square.missed, "%"));
    brv_problem_step(maker, "Of %s: %s and %s.", SAY(area, "cm2"), SAY(area * hexagonal.missed, "cm2"),
                     SAY(area * square.missed, "cm2"));
    struct brv_problem_key *key = brv_problem_answer(maker, hexagonal.missed, "%", "missed, hexagonal rows");
    brv_problem_printed(maker, key, 9.3, 0.05, "circle-packing", "memory");
    key = brv_problem_answer(maker, square.missed, "%", "missed, square rows");
    brv_problem_printed(maker, key, 21.5, 0.05, "circle-packing", "memory");
    brv_problem_answer(maker, area * hexagonal.missed, "cm2", "area missed, hexagonal rows");
    brv_problem_answer(maker, area * square.missed, "cm2", "area missed, square rows");
    return BRV_OK;
}

/* ---- no gap ---- */

/* Is the place that lies deepest between the spots hit? */
static bool closed(int lattice, double overlap)
{
    const struct brv_rows rows = brv_rows_laid(lattice, 1.0, overlap);
    const double down =
        lattice == BRV_SQUARE_LATTICE ? 0.5 : 1.0 / 3.0; /* of the pitch: middle of square or triangle */
    return brv_rows_hits_at(&rows, 1.0, 0.5 * rows.along, down * rows.pitch) > 0;
}

static double least_closed(int lattice)
{
    double open = 0.0, shut = 0.5;
    for (int i = 0; i < 60; i++) {
        const double middle = 0.5 * (open + shut);
        *(closed(lattice, middle) ? &shut : &open) = middle;
    }
    return shut;
}

brv_status brv_problem_no_gap(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    const double spot = brv_problem_given(maker, 6e-3, BRV_CHOICES(3e-3, 4e-3, 5e-3, 7e-3, 8e-3, 10e-3));
    const double hexagonal = least_closed(BRV_HEXAGONAL), square = least_closed(BRV_SQUARE_LATTICE);
    const struct brv_rows rows = brv_rows_laid(BRV_HEXAGONAL, spot, hexagonal);
    const double extra = brv_rows_hits(&rows, spot) - 1.0;
    brv_problem_ask(
        maker,
        "Spots of %s in even rows: which is the least overlap that leaves no gap, in hexagonal and in square "
        "rows? Hexagonal: how far apart may the centres be, and how much is spent beyond one hit everywhere, as a "
        "share of one hit and as a share of all that is spent?",
        SAY(spot, "mm"));
    brv_problem_step(maker,
                     "The deepest place lies in the middle of three centres, or of four: it must be half a spot from "
                     "each.");
    brv_problem_step(maker, "So the centres lie sqrt(3)/2 or 1/sqrt(2) of a width apart: overlaps of %s and %s.",
                     SAY(hexagonal, "%"), SAY(square, "%"));
    brv_problem_step(maker,
                     "Hexagonal: %s apart, %s hits on average. Beyond one everywhere that is %s of one hit, and %s of "
                     "all that is spent.",
                     SAY(rows.along, "mm"), SAY(extra + 1.0, ""), SAY(extra, "%"), SAY(extra / (extra + 1.0), "%"));
    brv_problem_step(maker, "With an even hand; one that wavers leaves gaps or hits twice.");
    struct brv_problem_key *key = brv_problem_answer(maker, hexagonal, "%", "least overlap, hexagonal rows");
    brv_problem_printed(maker, key, 13.4, 0.05, "circle-packing", "memory");
    key = brv_problem_answer(maker, square, "%", "least overlap, square rows");
    brv_problem_printed(maker, key, 29.3, 0.05, "circle-packing", "memory");
    key = brv_problem_answer(maker, extra, "%", "beyond one hit, as a share of one hit, hexagonal");
    brv_problem_printed(maker, key, 20.9, 0.05, "course-problems", "computed");
    brv_problem_answer(maker, extra / (extra + 1.0), "%", "beyond one hit, as a share of all spent, hexagonal");
    brv_problem_answer(maker, rows.along, "mm", "centres apart, hexagonal rows");
    return BRV_OK;
}

/* ---- the hand ---- */

static brv_status cover(struct brv_cover *cover, double spot, double overlap, double rate, double area,
                        struct brv_error *error)
{
    struct brv_scenario ask = {
        .beam = {.spot = spot, .profile = BRV_PROFILE_FLAT, .fluence = 1e4},
        .cover = {.overlap = overlap, .lattice = BRV_HEXAGONAL, .area = area, .rate = rate, .passes = 1.0}};
    ask.beam.energy = ask.beam.fluence * brv_beam_area(&ask.beam);
    return brv_cover_solve(cover, &ask, error);
}

brv_status brv_problem_hand(struct brv_problem_maker *maker, struct brv_error *error)
{
    const double spot = brv_problem_given(maker, 6e-3, BRV_CHOICES(4e-3, 5e-3, 7e-3, 8e-3));
    const double overlap = brv_problem_given(maker, 0.1, BRV_CHOICES(0.1, 0.15, 0.2));
    const double rate = brv_problem_given(maker, 5.0, BRV_CHOICES(2.0, 3.0, 4.0, 6.0));
    const double area = brv_problem_given(maker, 100e-4, BRV_CHOICES(50e-4, 60e-4, 80e-4, 120e-4));
    struct brv_cover found;
    const brv_status status = cover(&found, spot, overlap, rate, area, error);
    if (status) return status;
    brv_problem_ask(
        maker,
        "Spots of %s, %s overlap in hexagonal rows, %.0f pulses a second, %s of skin: how fast does the hand go, "
        "how many pulses does a pass take, and how long?",
        SAY(spot, "mm"), SAY(overlap, "%"), rate, SAY(area, "cm2"));
    brv_problem_step(maker, "From centre to centre %s, rows %s apart: %s pulses.", SAY(found.rows.along, "mm"),
                     SAY(found.rows.pitch, "mm"), SAY(found.density, "/cm2"));
    brv_problem_step(maker, "Hand: %s x %.0f = %s.", SAY(found.rows.along, "mm"), rate, SAY(found.hand, "mm/s"));
    brv_problem_step(maker, "Pulses: %s, rounded up; time: %s.", SAY(found.pulses, ""), SAY(found.time, "s"));
    brv_problem_step(maker, "At the rim more are needed: about %s on a square of that area.",
                     SAY(found.pulses_rim, ""));
    struct brv_problem_key *key = brv_problem_answer(maker, found.hand, "mm/s", "speed of the hand");
    brv_problem_printed(maker, key, 27.0, 0.5, "course-problems", "computed");
    key = brv_problem_answer(maker, found.pulses, "", "pulses of a pass");
    brv_problem_printed(maker, key, 396.0, 0.5, "course-problems", "computed");
    key = brv_problem_answer(maker, found.time, "s", "time of a pass");
    brv_problem_printed(maker, key, 79.0, 0.5, "course-problems", "computed");
    brv_cover_free(&found);
    return BRV_OK;
}

/* Share of the skin with three hits and more, least and most of it over how each row may lie against the one before. A
 * hand that hurries does not choose that, so none of them is the answer. */
static brv_status three_and_more(double share[2], const struct brv_rows *faster, double spot, struct brv_error *error)
{
    enum { STEPS = 4 };
    share[0] = 1.0;
    share[1] = 0.0;
    for (size_t i = 0; i <= STEPS; i++) {
        const struct brv_rows rows = {faster->along, faster->pitch, 0.5 * (double)i / STEPS * faster->along};
        struct brv_tally tally;
        const brv_status status = brv_rows_tally_hits(&tally, &rows, spot, error);
        if (status) return status;
        const double many = brv_tally_between(&tally, 2.5, INFINITY);
        share[0] = fmin(share[0], many);
        share[1] = fmax(share[1], many);
        brv_tally_free(&tally);
    }
    return BRV_OK;
}

brv_status brv_problem_faster(struct brv_problem_maker *maker, struct brv_error *error)
{
    const double spot = brv_problem_given(maker, 6e-3, BRV_CHOICES(4e-3, 5e-3, 7e-3, 8e-3));
    const double overlap = brv_problem_given(maker, 0.1, BRV_CHOICES(0.05, 0.15, 0.2));
    const double rate = brv_problem_given(maker, 5.0, BRV_CHOICES(2.0, 3.0, 4.0));
    struct brv_cover found;
    double many[2];
    brv_status status = cover(&found, spot, overlap, rate, 100e-4, error);
    if (status) return status;
    const struct brv_rows faster = brv_rows_hurried(&found.rows, 2.0);
    if ((status = three_and_more(many, &faster, spot, error))) {
        brv_cover_free(&found);
        return status;
    }
    const double before = found.way[BRV_COVER_ONE].mean, after = found.way[BRV_COVER_FASTER].mean;
    const double along = (1.0 - found.overlap_faster) * spot;
    brv_problem_ask(
        maker,
        "A hand lays flat round spots of %s in hexagonal rows with %s overlap at %.0f pulses a second. The rate goes "
        "up "
        "to %.0f, the hand does not: by how much do spots overlap along the row, and how many hits has a place on "
        "average before and after?",
        SAY(spot, "mm"), SAY(overlap, "%"), rate, 2.0 * rate);
    brv_problem_step(maker, "Centres come %s apart instead of %s: spots overlap by %s along the row.", SAY(along, "mm"),
                     SAY(found.rows.along, "mm"), SAY(found.overlap_faster, "%"));
    brv_problem_step(maker, "Rows stay where they were, so hits grow with the rate: %s before, %s after.",
                     SAY(before, ""), SAY(after, ""));
    brv_problem_step(
        maker,
        "%s to %s of the skin now gets three hits and more, by how each row happens to lie against the one "
        "before; %s did before.",
        SAY(many[0], "%"), SAY(many[1], "%"), SAY(found.way[BRV_COVER_ONE].share[3], "%"));
    struct brv_problem_key *key = brv_problem_answer(maker, found.overlap_faster, "%", "overlap along the row");
    brv_problem_printed(maker, key, 55.0, 0.5, "course-problems", "computed");
    key = brv_problem_answer(maker, before, "", "mean hits before");
    brv_problem_printed(maker, key, 1.12, 5e-3, "course-problems", "computed");
    key = brv_problem_answer(maker, after, "", "mean hits after");
    brv_problem_printed(maker, key, 2.24, 5e-3, "course-problems", "computed");
    brv_cover_free(&found);
    return BRV_OK;
}

/* ---- by chance ---- */

brv_status brv_problem_by_chance(struct brv_problem_maker *maker, struct brv_error *error)
{
    const double mean = brv_problem_given(maker, 3.0, BRV_CHOICES(1.5, 2.0, 2.5, 4.0, 5.0));
    const double many = brv_problem_given(maker, 4.0, BRV_CHOICES(4.0, 5.0, 6.0));
    char quantity[BRV_PROBLEM_QUANTITY];
    struct brv_tally tally;
    const brv_status status = brv_tally_poisson(&tally, mean, error);
    if (status) return status;
    const double missed = brv_tally_between(&tally, 0.0, 0.5), over = brv_tally_between(&tally, many - 0.5, INFINITY);
    brv_problem_ask(
        maker,
        "Pulses fall anywhere, without rows, %s hits on a place on average. Which share of the skin is missed? "
        "Which share gets %.0f hits and more?",
        SAY(mean, ""), many);
    brv_problem_step(maker, "Hits by chance follow Poisson: k hits with exp(-m) m^k/k!, m = %s.", SAY(mean, ""));
    brv_problem_step(maker, "Missed: exp(-m) = %s. %.0f and more: 1 less the shares of 0 to %.0f, %s.",
                     SAY(missed, "%"), many, many - 1.0, SAY(over, "%"));
    brv_problem_step(maker, "Spread over mean: 1/sqrt(m) = %s. More passes even it out, but slowly.",
                     SAY(brv_tally_variation(&tally), "%"));
    struct brv_problem_key *key = brv_problem_answer(maker, missed, "%", "missed");
    brv_problem_printed(maker, key, 5.0, 0.05, "course-problems", "computed");
    snprintf(quantity, sizeof quantity, "%.0f hits and more", many);
    key = brv_problem_answer(maker, over, "%", quantity);
    brv_problem_printed(maker, key, 35.3, 0.05, "course-problems", "computed");
    brv_problem_answer(maker, brv_tally_variation(&tally), "%", "spread over mean");
    brv_tally_free(&tally);
    return BRV_OK;
}

/* ---- errors together ---- */

brv_status brv_problem_meter_and_spot(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    const double meter = brv_problem_given(maker, BRV_OUTPUT_METER_ERROR, BRV_CHOICES(0.05, 0.1, 0.15));
    const double spot = brv_problem_given(maker, BRV_OUTPUT_SPOT_ERROR, BRV_CHOICES(0.03, 0.04, 0.08, 0.1));
    const double together = brv_output_together(meter, spot);
    brv_problem_ask(
        maker,
        "The meter is good to %s, the width of the spot to %s. How well is the fluence known, if the two know "
        "nothing of each other?",
        SAY(meter, "%"), SAY(spot, "%"));
    brv_problem_step(maker, "The width enters twice, as its square: %s. Squares add: %s^2 + %s^2.",
                     SAY(2.0 * spot, "%"), SAY(meter, "%"), SAY(2.0 * spot, "%"));
    brv_problem_step(maker, "Together: %s; the sum %s would count both at their worst.", SAY(together, "%"),
                     SAY(meter + 2.0 * spot, "%"));
    if (!maker->drawn)
        brv_problem_step(maker, "20 %% is what a rule on medical lasers allows a reading to be off [output-tolerance] "
                                "(second-hand); 5 %% of a width is this project's choice.");
    struct brv_problem_key *key = brv_problem_answer(maker, together, "%", "error of the fluence");
    brv_problem_printed(maker, key, 22.0, 0.5, "course-problems", "computed");
    return BRV_OK;
}
