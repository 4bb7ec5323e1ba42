#include "report/cover_notes.h"

#include "report/number.h"

#include <math.h>

static const struct brv_scenario *ask_of(const struct brv_cover_answer *answer)
{
    return &answer->request->scenario;
}

/* ---- what was asked ---- */

const char *brv_cover_asked(char out[BRV_COVER_TEXT], const struct brv_cover_answer *answer)
{
    static const char *const lattice[BRV_N_LATTICE] = {"hexagonal rows", "square rows",
                                                       "at random, as many as hexagonal rows"};
    const struct brv_scenario *ask = ask_of(answer);
    char spot[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE], energy[BRV_NUMBER_SIZE], area[BRV_NUMBER_SIZE],
        overlap[BRV_NUMBER_SIZE];
    snprintf(out, BRV_COVER_TEXT, "%.20s %s spots of %.20s, %.20s each; %s, overlap %.12s %%, %.0f pass%s over %.20s",
             brv_number_unit(spot, ask->beam.spot, BRV_LENGTH),
             ask->beam.profile == BRV_PROFILE_GAUSSIAN ? "gaussian" : "flat",
             brv_number_unit(fluence, ask->beam.fluence, BRV_FLUENCE),
             brv_number_unit(energy, ask->beam.energy, BRV_ENERGY), lattice[ask->cover.lattice],
             brv_number_short(overlap, 100.0 * ask->cover.overlap), ask->cover.passes,
             ask->cover.passes > 1.0 ? "es" : "", brv_number_unit(area, ask->cover.area, BRV_AREA));
    return out;
}

const char *brv_cover_hand(char out[BRV_COVER_TEXT], const struct brv_cover_answer *answer)
{
    const struct brv_cover *cover = answer->cover;
    char along[BRV_NUMBER_SIZE], pitch[BRV_NUMBER_SIZE], rate[BRV_NUMBER_SIZE], hand[BRV_NUMBER_SIZE];
    brv_number_short(rate, ask_of(answer)->cover.rate);
    if (cover->random)
        snprintf(out, BRV_COVER_TEXT, "%.12s pulses a second, anywhere: without rows there is no speed of the hand",
                 rate);
    else
        snprintf(
            out, BRV_COVER_TEXT, "%.20s from pulse to pulse, rows %.20s apart; %.12s mm/s at %.12s pulses a second",
            brv_number_unit(along, cover->rows.along, BRV_LENGTH),
            brv_number_unit(pitch, cover->rows.pitch, BRV_LENGTH), brv_number_short(hand, 1e3 * cover->hand), rate);
    return out;
}

double brv_cover_pulses_with_rim(const struct brv_cover *cover)
{
    return cover->pulses * (1.0 + cover->pulses_rim / cover->pulses_pass);
}

const char *brv_cover_pulses(char out[BRV_COVER_TEXT], const struct brv_cover_answer *answer)
{
    const struct brv_cover *cover = answer->cover;
    char density[BRV_NUMBER_SIZE], time[BRV_NUMBER_SIZE], energy[BRV_NUMBER_SIZE];
    const double pulses = brv_cover_pulses_with_rim(cover), more = pulses / cover->pulses;
    snprintf(out, BRV_COVER_TEXT,
             "%.0f a pass inside (%.12s/cm2), about %.0f with the rim of a square: %.0f in all, %.20s, %.20s",
             cover->pulses_pass, brv_number_short(density, 1e-4 * cover->density),
             cover->pulses_pass + cover->pulses_rim, pulses, brv_number_unit(time, more * cover->time, BRV_TIME),
             brv_number_unit(energy, more * cover->energy, BRV_ENERGY));
    return out;
}

/* ---- what the numbers do not say ---- */

static void note_dose(struct brv_notes *notes, const struct brv_cover_answer *answer)
{
    char fluence[BRV_NUMBER_SIZE], mean[BRV_NUMBER_SIZE];
    brv_number_unit(fluence, brv_beam_axis_fluence(&ask_of(answer)->beam), BRV_FLUENCE);
    brv_number_unit(mean, answer->cover->fluence, BRV_FLUENCE);
    if (answer->cover->gaussian)
        brv_notes_add(notes,
                      "dose 1: one pulse on its axis, %.20s; no edge: missed is outside 1/e2; summed mean %.20s.",
                      fluence, mean);
    else
        brv_notes_add(notes, "dose 1: one pulse, %.20s all over its spot: hits and dose are one; summed mean %.20s.",
                      fluence, mean);
}

static void note_passes(struct brv_notes *notes, const struct brv_cover_answer *answer)
{
    if (answer->cover->random)
        brv_notes_add(notes,
                      "at random: a Poisson process, so there is no highest dose; the map is one drawing of many.");
    else if (ask_of(answer)->cover.passes > 1.0)
        brv_notes_add(notes,
                      "anywhere: mean over all shifts of passes. Rows are ruled: how uneven a hand is has no number.");
    else
        brv_notes_add(notes,
                      "rows are ruled: how evenly a hand places spots has no number here, so shares have no spread.");
}

static void note_faster(struct brv_notes *notes, const struct brv_cover_answer *answer)
{
    const struct brv_cover *cover = answer->cover;
    char along[BRV_NUMBER_SIZE], overlap[BRV_NUMBER_SIZE];
    if (cover->random)
        brv_notes_add(notes, "twice the rate for as long is twice the pulses and twice the mean dose.");
    else
        brv_notes_add(
            notes, "twice the rate, same hand: no time saved; %.20s apart, %.12s %% overlap in the row, dose doubled.",
            brv_number_unit(along, 0.5 * cover->rows.along, BRV_LENGTH),
            brv_number_short(overlap, 100.0 * cover->overlap_faster));
}

void brv_cover_notes_make(struct brv_notes *notes, const struct brv_cover_answer *answer)
{
    const struct brv_scenario *ask = ask_of(answer);
    notes->n = 0;
    note_dose(notes, answer);
    note_passes(notes, answer);
    note_faster(notes, answer);
    if (answer->n_revisit > 0)
        brv_notes_add(notes,
                      "heat: the hits of ONE row, all on one place; rows and passes after it add to that, and are "
                      "not in it. Brackets: grains 0.316 to 3.16 x dark.");
    if (brv_pulse_total(&ask->pulse) > 1)
        brv_notes_add(notes, "the scenario's own %zu pulses on one place are left aside: every spot is one pulse.",
                      brv_pulse_total(&ask->pulse));
    brv_notes_add(notes, "not in it: what a second hit does to pigment, blood or healing, and which overlap is right.");
}
