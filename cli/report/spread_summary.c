/* What `brevis spread` says at the terminal and in summary.txt. */
#include "report/spread.h"

#include "report/asked.h"
#include "report/body.h"
#include "report/caution.h"
#include "report/hash.h"
#include "report/input.h"
#include "report/number.h"
#include "report/term.h"
#include "report/words.h"
#include "scenario/keys.h"

#include <math.h>
#include <string.h>

enum { STRONGEST = 5, TEXT = 240 };

static const enum brv_headline told[] = {
    BRV_HEADLINE_LIGHT_GRAIN,     BRV_HEADLINE_GRAIN_PEAK, BRV_HEADLINE_LAYER_PEAK,
    BRV_HEADLINE_THRESHOLD_GRAIN, BRV_HEADLINE_SHARE,      BRV_HEADLINE_THRESHOLD_SIGN,
    BRV_HEADLINE_RATIO,           BRV_HEADLINE_PRESSURE,   BRV_HEADLINE_DAMAGE};

static void write_head(FILE *to, const struct brv_spread_answer *answer)
{
    const struct brv_scenario *ask = &answer->request->scenario;
    const struct brv_spreading *spreading = answer->spreading;
    char hash[BRV_HASH_SIZE], pulse[BRV_NUMBER_SIZE], spot[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE],
        outside[BRV_ASKED_SIZE], train[BRV_ASKED_SIZE];
    fprintf(to, "brevis %s   %s   [scenario %s]\n\n", BRV_VERSION,
            *answer->request->title ? answer->request->title : "(no title)", brv_hash_scenario(hash, ask));
    fprintf(to, "ASKED    %.4g nm, %s %s pulse, %s %s spot, %s, %s outside\n", 1e9 * ask->beam.wavelength,
            brv_number_unit(pulse, ask->pulse.width, BRV_TIME),
            ask->pulse.shape == BRV_SHAPE_SQUARE ? "square" : "gaussian",
            brv_number_unit(spot, ask->beam.spot, BRV_LENGTH),
            ask->beam.profile == BRV_PROFILE_GAUSSIAN ? "gaussian" : "flat",
            brv_number_unit(fluence, ask->beam.fluence, BRV_FLUENCE), brv_asked_meets(outside, ask));
    if (*brv_asked_train(train, &ask->pulse)) fprintf(to, "         %s\n", train);
    if (*brv_asked_cover(outside, ask)) fprintf(to, "         %s\n", outside);
    brv_body_lines(to, ask);
    fprintf(to, "DRAWN    %zu times, %zu inputs at once, %zu of them opened by the scenario; the rest of it is held\n",
            spreading->n_draw, spreading->inputs.n, answer->request->n_opened);
}

/* ---- intervals ---- */

static const char *value_text(char out[BRV_TERM_SIZE], enum brv_headline which, double value)
{
    return isinf(value) && which != BRV_HEADLINE_DAMAGE ? "none" : brv_term_value(out, which, value);
}

/* Largest difference of the first half of the draws, in percent of the width; "-" where an end is open. */
static const char *half_text(char out[BRV_NUMBER_SIZE], const struct brv_spread_row *row)
{
    const double width = row->all.p95 - row->all.p5;
    const double most = fmax(row->half.p50, fmax(row->half.p5, row->half.p95)); /* leaves out what is NAN */
    if (!(width > 0.0) || !isfinite(width) || isnan(most)) return "-";
    snprintf(out, BRV_NUMBER_SIZE, "%.0f %%", ceil(100.0 * most / width));
    return out;
}

/* "0.13 (0.05 to none), 3 %" */
static void interval_text(char out[TEXT], enum brv_headline which, const struct brv_spread_row *row)
{
    char p5[BRV_TERM_SIZE], p50[BRV_TERM_SIZE], p95[BRV_TERM_SIZE], half[BRV_NUMBER_SIZE];
    if (isnan(row->all.p50))
        snprintf(out, TEXT, "-");
    else
        snprintf(out, TEXT, "%.16s (%.16s to %.16s), %.12s", value_text(p50, which, row->all.p50),
                 value_text(p5, which, row->all.p5), value_text(p95, which, row->all.p95), half_text(half, row));
}

static void write_intervals(FILE *to, const struct brv_spreading *spreading)
{
    fprintf(to, "%-9s%-36s%-34s%s\n", "SPREAD", "median (5 % to 95 % of draws), *", "lesion", "neighbour");
    for (size_t i = 0; i < sizeof told / sizeof *told; i++) {
        char label[BRV_TERM_SIZE], lesion[TEXT], neighbour[TEXT];
        interval_text(lesion, told[i], &spreading->row[BRV_LESION][told[i]]);
        interval_text(neighbour, told[i], &spreading->row[BRV_NEIGHBOUR][told[i]]);
        fprintf(to, "%-9s%-36s%-34s%s\n", "", brv_term_label(label, told[i]), lesion,
                brv_terms[told[i]].shared ? "" : neighbour);
    }
    fprintf(to, "%-9s* how far the first half of the draws is off, in %% of the width: an indication\n", "");
}

/* ---- inputs ---- */

static void rank_text(char out[TEXT], const struct brv_spread_answer *answer, const struct brv_spread_row *row,
                      const size_t strongest[], size_t n, size_t place)
{
    char name[BRV_INPUT_NAME_SIZE];
    *out = '\0';
    if (place >= n) return;
    brv_input_name(name, &answer->spreading->inputs.input[strongest[place]], answer->request);
    snprintf(out, TEXT, "%.2f %.2f %.36s", row->first[strongest[place]], row->total[strongest[place]], name);
}

static void fit_text(char out[TEXT], enum brv_headline which, const struct brv_spread_row *row)
{
    if (isnan(row->q2))
        snprintf(out, TEXT, "%s: nothing varies", brv_terms[which].name);
    else
        snprintf(out, TEXT, "%s; fit misses %.0f %%%s", brv_terms[which].name, ceil(100.0 * (1.0 - row->q2)),
                 row->q2 < BRV_SPREAD_ROUGH ? ": rough" : "");
}

static void write_inputs(FILE *to, const struct brv_spread_answer *answer)
{
    static const enum brv_headline ranked[] = {BRV_HEADLINE_THRESHOLD_SIGN, BRV_HEADLINE_SHARE};
    size_t strongest[2][STRONGEST], n[2];
    const struct brv_spread_row *row[2];
    char text[2][TEXT];
    for (size_t k = 0; k < 2; k++) {
        row[k] = &answer->spreading->row[BRV_LESION][ranked[k]];
        n[k] = brv_spread_strongest(strongest[k], STRONGEST, answer->spreading, row[k]);
        fit_text(text[k], ranked[k], row[k]);
    }
    fprintf(to, "INPUTS   share of the variance in the lesion: alone, and with others\n");
    fprintf(to, "%-9s%-48s%s\n", "", text[0], text[1]);
    for (size_t place = 0; place < STRONGEST; place++) {
        for (size_t k = 0; k < 2; k++) rank_text(text[k], answer, row[k], strongest[k], n[k], place);
        if (*text[0] || *text[1]) fprintf(to, "%-9s%-48s%s\n", "", text[0], text[1]);
    }
}

/* ---- slips ---- */

static void slip_row(FILE *to, const struct brv_slip *slip)
{
    static const struct {
        enum brv_headline which;
        enum brv_site_index site;
    } column[] = {{BRV_HEADLINE_GRAIN_PEAK, BRV_LESION},
                  {BRV_HEADLINE_SHARE, BRV_LESION},
                  {BRV_HEADLINE_SHARE, BRV_NEIGHBOUR},
                  {BRV_HEADLINE_LAYER_PEAK, BRV_LESION}};
    char name[BRV_SLIP_NAME_SIZE], text[BRV_TERM_SIZE];
    fprintf(to, "%-9s%-38s", "", brv_slip_name(name, slip));
    if (isnan(slip->fluence)) {
        fputs("not computed: outside 0.5 to 30 mm\n", to);
        return;
    }
    fprintf(to, "%+6.1f %%", 100.0 * (slip->fluence - 1.0));
    for (size_t k = 0; k < sizeof column / sizeof *column; k++)
        fprintf(to, "%13s",
                brv_term_value(text, column[k].which, slip->headlines.at[column[k].site][column[k].which].value));
    fputc('\n', to);
}

static void write_slips(FILE *to, const struct brv_spread_answer *answer)
{
    fprintf(to, "%-9s%-38s%8s%13s%13s%13s%13s\n", "SLIPS", "", "fluence", "grain rise K", "disrupted %", "neighbour %",
            "layer rise K");
    for (size_t i = 0; i < BRV_N_SLIP; i++)
        if (answer->slip[i].kind != BRV_SLIP_BOTH) slip_row(to, &answer->slip[i]);
    for (size_t i = 0; i < BRV_N_SLIP; i++)
        if (answer->slip[i].kind == BRV_SLIP_BOTH && answer->slip[i].size > 0.0 && answer->slip[i].spot_size < 0.07)
            fprintf(to, "%-9soutput 20 %% and spot 5 %% together: fluence +-%.1f %%; 20 %% and 10 %%: +-%.1f %%\n", "",
                    100.0 * (answer->slip[i].fluence - 1.0), 100.0 * (answer->slip[i + 2].fluence - 1.0));
}

/* ---- notes ---- */

static void note_missing(FILE *to, const struct brv_spreading *spreading)
{
    const double lesion = spreading->row[BRV_LESION][BRV_HEADLINE_THRESHOLD_SIGN].without;
    const double neighbour = spreading->row[BRV_NEIGHBOUR][BRV_HEADLINE_THRESHOLD_SIGN].without;
    char text[TEXT];
    if (!(lesion > 0.0) && !(neighbour > 0.0)) return;
    snprintf(text, sizeof text,
             "No sign at any fluence in %.0f %% of the draws of the lesion and %.0f %% of the neighbour: they count as "
             "above every threshold.",
             100.0 * lesion, 100.0 * neighbour);
    brv_words_wrap(to, "", text);
}

static void write_notes(FILE *to, const struct brv_spread_answer *answer)
{
    char text[TEXT];
    brv_words_wrap(
        to, "NOTES",
        "Low and high of most inputs are from memory or choices, drawn apart from each other: an interval says "
        "how far the answer follows from them, not how people differ. What no input holds is in no interval.");
    note_missing(to, answer->spreading);
    snprintf(text, sizeof text,
             "Followed to %s; warmth at 0.3 and 1 mm is left out. The factor 3 either way of a pressure is not drawn. "
             "Grains above the criterion: without vaporisation.",
             isinf(answer->spreading->after) ? "the end of the run, for damage goes on after the pulses"
                                             : "10 ms after the last pulse, after which it adds no damage");
    brv_words_wrap(to, "", text);
}

void brv_spread_summary(FILE *to, const struct brv_spread_answer *answer)
{
    char cautions[BRV_CAUTION_SIZE];
    write_head(to, answer);
    write_intervals(to, answer->spreading);
    write_inputs(to, answer);
    write_slips(to, answer);
    write_notes(to, answer);
    brv_words_wrap(to, "CAUTION", brv_caution_text(cautions));
}
