#include "report/ladder.h"

#include "base/constants.h"
#include "report/asked.h"
#include "report/body.h"
#include "report/caution.h"
#include "report/hash.h"
#include "report/note.h"
#include "report/number.h"
#include "report/page.h"
#include "report/published.h"
#include "report/sheet.h"
#include "report/term.h"
#include "scenario/keys.h"
#include "tissue/chromophore.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#define LONG_PULSE 1e-6 /* thresholds of people in the list are of nanoseconds [s] */

enum {
    ROOMY = 8,      /* so many spots leave a page its large letters */
    COLUMNS = 108,  /* of the table for the terminal */
    SEEN = 20,      /* of them to write in, or fewer ... */
    SEEN_LEAST = 6, /* ... down to these, or none */
    GRAIN_SIZE = 96
};

/* ---- what stands above and below the table, the same on both pages ---- */

/* "532 nm, 7 ns gaussian pulse, 4 mm flat spot, air outside" */
static const char *asked_text(char out[BRV_SHEET_LINE_SIZE], const struct brv_scenario *ask)
{
    char pulse[BRV_NUMBER_SIZE], spot[BRV_NUMBER_SIZE], outside[BRV_ASKED_SIZE], train[BRV_ASKED_SIZE];
    const bool repeated = *brv_asked_train(train, &ask->pulse) != '\0';
    snprintf(
        out, BRV_SHEET_LINE_SIZE, "%.4g nm, %s %s pulse, %s %s spot, %s outside%s%s", 1e9 * ask->beam.wavelength,
        brv_number_unit(pulse, ask->pulse.width, BRV_TIME), brv_key_word(BRV_SCOPE_PULSE, "shape", ask->pulse.shape),
        brv_number_unit(spot, ask->beam.spot, BRV_LENGTH), brv_key_word(BRV_SCOPE_LIGHT, "profile", ask->beam.profile),
        brv_asked_meets(outside, ask), repeated ? "; every spot: " : "", train);
    return out;
}

/* How far the model's signs are from what was seen in people at this wavelength: the first thing to know. */
static void add_misses(struct brv_sheet *lines, const struct brv_card *card)
{
    double least = INFINITY, most = 0.0;
    char from[BRV_NUMBER_SIZE], to[BRV_NUMBER_SIZE];
    for (size_t i = 0; i < brv_n_published; i++) {
        const struct brv_published *row = &brv_published[i];
        if (row->sign_of < 0 || card->request->scenario.pulse.width > LONG_PULSE ||
            !brv_published_is_on_card(i, card->request->scenario.beam.wavelength))
            continue;
        const double sign = card->spots->result.site[row->sign_of].effect.crowd.threshold_sign.value;
        least = fmin(least, row->low / sign);
        most = fmax(most, row->low / sign);
    }
    if (!(most > 0.0)) {
        brv_sheet_add(
            lines, "MODEL",
            "\"sign in\" is a guess to be tested: for such a pulse it was held against no threshold of people.");
        return;
    }
    brv_sheet_add(
        lines, "MODEL",
        "\"sign in\" is a guess to be tested: whitening was published in people at this wavelength at %s to %s times "
        "the "
        "model's threshold.",
        brv_number_short(from, least), brv_number_short(to, most));
}

/* "pigment of basal: 13.7 % around the lesion, 34.2 % in it"; each skin has its own layer in which a grain is followed. */
static void pigment_text(char out[BRV_SHEET_LINE_SIZE], const struct brv_card *card)
{
    const struct brv_scenario *ask = &card->request->scenario;
    char share[BRV_N_SITE][BRV_NUMBER_SIZE];
    const char *name[BRV_N_SITE];
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        const size_t layer = card->spots->result.site[i].tissue.grain.layer;
        name[i] = card->request->layer_name[layer];
        brv_number_short(share[i], 100.0 * ask->skin[i].layer[layer].melanosomes);
    }
    if (name[BRV_LESION] == name[BRV_NEIGHBOUR])
        snprintf(out, BRV_SHEET_LINE_SIZE, "pigment of %s: %s %% around the lesion, %s %% in it", name[BRV_LESION],
                 share[BRV_NEIGHBOUR], share[BRV_LESION]);
    else
        snprintf(out, BRV_SHEET_LINE_SIZE,
                 "pigment where a grain is followed: around the lesion %s %% of %s, in it %s %% of %s",
                 share[BRV_NEIGHBOUR], name[BRV_NEIGHBOUR], share[BRV_LESION], name[BRV_LESION]);
}

/* "0.3 um, 1 times as dark as usual"; an absorption that was given needs its comparison. */
static void grain_text(char out[GRAIN_SIZE], const struct brv_card *card, size_t site)
{
    const struct brv_scenario *ask = &card->request->scenario;
    const struct brv_grain_ask *grain = &ask->skin[site].grain;
    char diameter[BRV_NUMBER_SIZE], absorption[BRV_NUMBER_SIZE], times[BRV_NUMBER_SIZE];
    brv_number_unit(diameter, grain->diameter, BRV_LENGTH);
    if (brv_key_given(grain, BRV_SCOPE_GRAIN, "absorption"))
        snprintf(out, GRAIN_SIZE, "%.20s that absorb %.20s, %.20s times the usual", diameter,
                 brv_number_unit(absorption, grain->absorption, BRV_PER_LENGTH),
                 brv_number_short(times, grain->absorption / brv_chromophore_melanosome(ask->beam.wavelength, 1.0)));
    else
        snprintf(out, GRAIN_SIZE, "%.20s, %.20s times as dark as usual", diameter,
                 brv_number_short(times, grain->darkness));
}

/* Whose skin this is. */
static void add_skin(struct brv_sheet *lines, const struct brv_card *card)
{
    const struct brv_scenario *ask = &card->request->scenario;
    char pigment[BRV_SHEET_LINE_SIZE], lesion[GRAIN_SIZE], neighbour[GRAIN_SIZE], text[BRV_BODY_SIZE],
        colour[BRV_ASKED_SIZE];
    pigment_text(pigment, card);
    grain_text(lesion, card, BRV_LESION);
    grain_text(neighbour, card, BRV_NEIGHBOUR);
    const char *none = ask->lesion_given ? "" : " (none was described: 2.5 times as much, 60 % at most)";
    if (!strcmp(lesion, neighbour))
        brv_sheet_add(lines, "SKIN", "%s%s; grains of %s.", pigment, none, lesion);
    else
        brv_sheet_add(lines, "SKIN", "%s%s; grains around the lesion: %s; in it: %s.", pigment, none, neighbour,
                      lesion);
    if (*brv_asked_colour(colour, ask)) brv_sheet_add(lines, "", "%s", colour);
    if (*brv_asked_made_colour(colour, ask)) brv_sheet_add(lines, "", "%s", colour);
    if (*brv_body_text(text, &ask->skin[BRV_NEIGHBOUR])) brv_sheet_add(lines, "SITE", "%s", text);
    if (*brv_film_text(text, &ask->film)) brv_sheet_add(lines, "FILM", "%s", text);
}

/* What stands above the table. */
static void add_head(struct brv_sheet *lines, const struct brv_card *card)
{
    char asked[BRV_SHEET_LINE_SIZE], cover[BRV_ASKED_SIZE];
    lines->n = 0;
    brv_sheet_add(lines, "ASKED", "%s", asked_text(asked, &card->request->scenario));
    if (*brv_asked_cover(cover, &card->request->scenario)) brv_sheet_add(lines, "", "%s", cover);
    for (size_t i = 0; i < card->n_set; i++) brv_sheet_add(lines, i ? "" : "CHANGED", "%s", card->set[i]);
    add_skin(lines, card);
    brv_sheet_add(
        lines, "CAUTION",
        "A teaching model in an idealised skin: not a medical device, not for choosing settings for a person. "
        "A licensed clinician, local rules and the equipment's instructions come first.");
    add_misses(lines, card);
}

static struct brv_spread damage_of(const struct brv_test_spot *step)
{
    return brv_spread_higher(&step->site[BRV_LESION].damage, &step->site[BRV_NEIGHBOUR].damage);
}

/* Of the damage of a step, as in the summary of a run; what is too little to be told illustrates nothing. */
static bool is_illustration(const struct brv_test_spot *step)
{
    return step->site[BRV_LESION].illustrative && step->site[BRV_NEIGHBOUR].illustrative &&
           damage_of(step).high >= BRV_TERM_LEAST_DAMAGE;
}

/* Rise at which a figure stops being a temperature. */
static double ceiling_of(const struct brv_card *card)
{
    const struct brv_site *lesion = &card->spots->result.site[BRV_LESION];
    return lesion->effect.ceiling - lesion->history.start[BRV_PROBE_LAYER];
}

/* What a run of the last spot says of harm: the card of the steps below hides none of it. */
static void add_notes(struct brv_sheet *lines, const struct brv_card *card)
{
    struct brv_notes notes;
    brv_notes_make(&notes, &card->spots->result);
    for (size_t i = 0; i < notes.n_grave; i++)
        brv_sheet_add(lines, i ? "" : "NOTES", "%s%s", i ? "" : "of the last spot: ", notes.text[i]);
}

/* "by 12 K", "by more than 79 K" */
static const char *rise_text(char out[BRV_NUMBER_SIZE], double rise, double ceiling)
{
    char number[BRV_NUMBER_SIZE];
    snprintf(out, BRV_NUMBER_SIZE, "by %s%.24s K", rise > ceiling ? "more than " : "",
             brv_number_short(number, fmin(rise, ceiling)));
    return out;
}

/* A film is heated first, and the skin under it: at the last spot. */
static void add_film(struct brv_sheet *lines, const struct brv_card *card)
{
    const struct brv_test_spot *last = &card->spots->step[card->spots->n - 1];
    const struct brv_spread film = brv_spread_higher(&last->site[BRV_LESION].film, &last->site[BRV_NEIGHBOUR].film);
    const struct brv_spread skin =
        brv_spread_higher(&last->site[BRV_LESION].surface, &last->site[BRV_NEIGHBOUR].surface);
    const struct brv_site *site = &card->spots->result.site[BRV_LESION];
    char rise[BRV_NUMBER_SIZE], surface[BRV_NUMBER_SIZE];
    if (!site->effect.film.there) return;
    const double ceiling = site->effect.ceiling - site->history.start[site->history.film];
    brv_sheet_add(lines, "FILM", "at the last spot its mean rises %s%s%s, in the skin where it rises more.",
                  rise_text(rise, film.value, ceiling), isnan(skin.value) ? "" : ", the skin's surface below it ",
                  isnan(skin.value) ? "" : rise_text(surface, skin.value, ceiling));
}

static bool any_illustration(const struct brv_card *card)
{
    bool any = false;
    for (size_t k = 0; k < card->spots->n; k++) any |= is_illustration(&card->spots->step[k]);
    return any;
}

static void add_reading(struct brv_sheet *lines, const struct brv_card *card)
{
    const struct brv_effect *lesion = &card->spots->result.site[BRV_LESION].effect;
    const struct brv_effect *neighbour = &card->spots->result.site[BRV_NEIGHBOUR].effect;
    char one[BRV_TERM_SIZE], two[BRV_TERM_SIZE], column[BRV_ASKED_SIZE];
    brv_sheet_add(lines, "DAMAGE",
                  "log10 Omega by lasting warmth, where in either skin it is most: -0.3, 0, 4 are published for burns "
                  "of 1st, 2nd, "
                  "3rd degree%s.",
                  any_illustration(card) ? ". *: an illustration, most of it within 1 ms of a pulse under 1 ms" : "");
    brv_sheet_add(lines, "HOTTEST",
                  "highest by the pulses, of layers with pigment and watched depths. \">\" stands where a figure "
                  "would pass %.0f C; "
                  "beyond, it is "
                  "energy over heat capacity.",
                  lesion->ceiling - BRV_ZERO_C);
    brv_sheet_add(lines, "SIGN",
                  "threshold, J/cm2: lesion %s, neighbour %s; a grain counts as disrupted at %.0f C, %s. none: below "
                  "that range; unsure: within it; sign: above it. What is seen counts, not this column.",
                  brv_term_spread(one, BRV_HEADLINE_THRESHOLD_SIGN, &lesion->crowd.threshold_sign),
                  brv_term_spread(two, BRV_HEADLINE_THRESHOLD_SIGN, &neighbour->crowd.threshold_sign),
                  lesion->criterion - BRV_ZERO_C, brv_key_word(BRV_SCOPE_WATCH, "place", lesion->place));
    brv_sheet_add(lines, "",
                  "Brackets: grains 0.316-3.16 x dark; grains disrupted also criteria 150 to 112 C, sign also its "
                  "column, %s um, no source.",
                  brv_asked_sign(column, &card->request->scenario.watch));
    if (card->request->scenario.beam.profile == BRV_PROFILE_GAUSSIAN)
        brv_sheet_add(lines, "",
                      "gaussian beam: on its axis, where all this is computed, the fluence is twice energy / area.");
}

static const char *bound_text(char out[BRV_NUMBER_SIZE], double rise, double ceiling)
{
    char number[BRV_NUMBER_SIZE];
    snprintf(out, BRV_NUMBER_SIZE, "by %s %.24s K", rise > ceiling ? "more than" : "up to",
             brv_number_short(number, fmin(rise, ceiling)));
    return out;
}

/* Blood at the highest step: a line to look at. */
static void add_vessel(struct brv_sheet *lines, const struct brv_card *card)
{
    const struct brv_vessel_ask *vessel = &card->request->scenario.vessel;
    const struct brv_test_spot *last = &card->spots->step[card->spots->n - 1];
    char lesion[BRV_NUMBER_SIZE], neighbour[BRV_NUMBER_SIZE], diameter[BRV_NUMBER_SIZE], depth[BRV_NUMBER_SIZE];
    if (isnan(last->site[BRV_LESION].vessel.value)) return;
    brv_sheet_add(lines, "BLOOD",
                  "at the last spot the light of one pulse warms blood in a vessel of %s at %s %s, neighbour %s, if "
                  "all is kept, on "
                  "top of the tissue around it.",
                  brv_number_unit(diameter, vessel->diameter, BRV_LENGTH),
                  brv_number_unit(depth, vessel->depth, BRV_LENGTH),
                  bound_text(lesion, last->site[BRV_LESION].vessel.value, ceiling_of(card)),
                  bound_text(neighbour, last->site[BRV_NEIGHBOUR].vessel.value, ceiling_of(card)));
}

static void add_waiting(struct brv_sheet *lines, const struct brv_scenario *ask)
{
    char wait[BRV_NUMBER_SIZE];
    if (ask->ladder.wait > 0.0)
        brv_sheet_add(lines, "WAIT", "%s, as given in the scenario. No standard waiting time exists.",
                      brv_number_unit(wait, ask->ladder.wait, BRV_WAITING));
    else
        brv_sheet_add(lines, "WAIT", "______ (none was given in the scenario; no standard waiting time exists)");
    brv_sheet_add(
        lines, "",
        "Whitening fades within some 20 minutes (pigment-chapter): look at once, judge colour after the wait.");
}

/* Where a paper's fluences lie to the steps. */
static const char *where_to_steps(const struct brv_published *row, const struct brv_test_spots *spots)
{
    if (row->high < spots->step[0].fluence) return "OUTSIDE these steps, below all of them";
    if (row->low > spots->step[spots->n - 1].fluence) return "OUTSIDE these steps, above all of them";
    return "among these steps";
}

/* "694 nm, 30 ns, facial lentigines, n = 18: 6 to 7 J/cm2 (kono-2006, abstract): OUTSIDE these steps, above all of them" */
static void add_row(struct brv_sheet *lines, const struct brv_published *row, const struct brv_test_spots *spots)
{
    char low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE], people[32] = "";
    brv_number_short(low, 1e-4 * row->low);
    brv_number_short(high, 1e-4 * row->high);
    if (row->n) snprintf(people, sizeof people, ", n = %d", row->n);
    brv_sheet_add(lines, "", "%s%.4g nm, %s, %s%s: %s%s%s J/cm2 (%s, %s): %s",
                  row->sun ? "" : "OTHER DISEASE: ", 1e9 * row->wavelength, row->pulse, row->condition, people, low,
                  row->high > row->low ? " to " : "", row->high > row->low ? high : "", row->source, row->seen,
                  where_to_steps(row, spots));
}

static void add_published(struct brv_sheet *lines, const struct brv_card *card)
{
    const double wavelength = card->request->scenario.beam.wavelength;
    size_t n = 0;
    for (size_t i = 0; i < brv_n_published; i++) n += brv_published_is_on_card(i, wavelength);
    if (n == 0) {
        brv_sheet_add(lines, "PAPERS", "no published fluence at %.4g nm is in this program's list.", 1e9 * wavelength);
        return;
    }
    brv_sheet_add(
        lines, "PAPERS",
        "published, not advice: other skins, pulses, spots and aims than here. Where they lie is no reason to move a "
        "step.");
    for (size_t i = 0; i < brv_n_published; i++)
        if (brv_published_is_on_card(i, wavelength)) add_row(lines, &brv_published[i], card->spots);
}

static void add_all(struct brv_sheet *lines, const struct brv_card *card)
{
    char cautions[BRV_CAUTION_SIZE];
    lines->n = 0;
    add_notes(lines, card);
    add_film(lines, card);
    add_reading(lines, card);
    add_vessel(lines, card);
    brv_sheet_add(
        lines, "STOP",
        "at blisters, swelling, grey colour or bleeding, whatever stands here (common practice; end-points-2016).");
    add_waiting(lines, &card->request->scenario);
    add_published(lines, card);
    brv_sheet_add(lines, "LESS",
                  "is not harmless: below whitening, skin was DARKER at one week (694 nm, Hruza 1991). More whitening "
                  "cleared no better and darkened more (Negishi 2013).");
    brv_sheet_add(lines, "CAUTION", "%s", brv_caution_text(cautions));
}

/* ---- the table ---- */

static const char *const sign_word[BRV_N_SIGN] = {"none", "unsure", "sign"};

/* What the model says of a spot, from left to right. */
enum { SPOT, FLUENCE, ENERGY, SHARE_LESION, SHARE_NEIGHBOUR, SIGN_LESION, SIGN_NEIGHBOUR, HOTTEST, DAMAGE, N_CELL };

struct cells {
    char text[N_CELL][BRV_TERM_SIZE];
};

/* "2.5 (-1.6..6.3)"; without `whole`, "2.5 (to 6.3)": the end that harms is never left out. */
static void range_text(char out[BRV_TERM_SIZE], const char *value, const char *low, const char *high, bool whole)
{
    if (!strcmp(value, low) && !strcmp(value, high))
        snprintf(out, BRV_TERM_SIZE, "%.16s", value);
    else
        snprintf(out, BRV_TERM_SIZE, "%.16s (%.16s%s%.16s)", value, whole ? low : "", whole ? ".." : "to ", high);
}

/* "67.3", or ">112" where it would boil; ends of a range outward. */
static const char *degrees_text(char out[BRV_NUMBER_SIZE], double temperature, double ceiling, int end)
{
    const double degrees = fmin(temperature, ceiling) - BRV_ZERO_C;
    char number[BRV_NUMBER_SIZE];
    const bool over = temperature > ceiling;
    if (over || end == 0)
        brv_number_short(number, degrees);
    else
        brv_number_outward(number, degrees, end > 0);
    snprintf(out, BRV_NUMBER_SIZE, "%s%.60s", over ? ">" : "", number);
    return out;
}

static void hottest_text(char out[BRV_TERM_SIZE], const struct brv_test_spot *step, double ceiling, bool whole)
{
    const struct brv_spread hottest =
        brv_spread_higher(&step->site[BRV_LESION].hottest, &step->site[BRV_NEIGHBOUR].hottest);
    char value[BRV_NUMBER_SIZE], low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE];
    range_text(out, degrees_text(value, hottest.value, ceiling, 0), degrees_text(low, hottest.low, ceiling, -1),
               degrees_text(high, hottest.high, ceiling, 1), whole);
}

static void damage_text(char out[BRV_TERM_SIZE], const struct brv_test_spot *step, bool whole)
{
    const struct brv_spread damage = damage_of(step);
    char value[BRV_TERM_SIZE], low[BRV_TERM_SIZE], high[BRV_TERM_SIZE];
    range_text(out, brv_term_value(value, BRV_HEADLINE_DAMAGE, damage.value),
               brv_term_value(low, BRV_HEADLINE_DAMAGE, damage.low),
               brv_term_value(high, BRV_HEADLINE_DAMAGE, damage.high), whole);
    const size_t used = strlen(out);
    if (is_illustration(step)) snprintf(out + used, BRV_TERM_SIZE - used, "*");
}

static void fill_cells(struct cells *cells, const struct brv_card *card, size_t k, bool whole)
{
    const struct brv_test_spot *step = &card->spots->step[k];
    const struct brv_test_spot_site *lesion = &step->site[BRV_LESION], *neighbour = &step->site[BRV_NEIGHBOUR];
    snprintf(cells->text[SPOT], sizeof cells->text[SPOT], "%zu", k + 1);
    brv_number_short(cells->text[FLUENCE], 1e-4 * step->fluence);
    brv_number_short(cells->text[ENERGY], 1e3 * step->energy);
    brv_term_compact(cells->text[SHARE_LESION], BRV_HEADLINE_SHARE, &lesion->share);
    brv_term_compact(cells->text[SHARE_NEIGHBOUR], BRV_HEADLINE_SHARE, &neighbour->share);
    snprintf(cells->text[SIGN_LESION], BRV_TERM_SIZE, "%s", sign_word[lesion->sign]);
    snprintf(cells->text[SIGN_NEIGHBOUR], BRV_TERM_SIZE, "%s", sign_word[neighbour->sign]);
    hottest_text(cells->text[HOTTEST], step, card->spots->result.site[BRV_LESION].effect.ceiling, whole);
    damage_text(cells->text[DAMAGE], step, whole);
}

/* ---- for the terminal ---- */

/* An empty cell leaves its room to the one before it. */
static void text_row(FILE *to, const size_t width[N_CELL], const struct cells *cells, const char *seen)
{
    for (size_t i = 0, next; i < N_CELL; i = next) {
        size_t room = width[i];
        for (next = i + 1; i > 0 && next < N_CELL && !*cells->text[next]; next++) room += width[next];
        fprintf(to, "%-*s", next < N_CELL || *seen ? (int)room : 0, cells->text[i]);
    }
    fprintf(to, "%s\n", seen);
}

/* As wide as heads and usual numbers need, and wider for a number that would touch the next one. Returns their sum. */
static size_t lay_widths(size_t width[N_CELL], const struct brv_card *card, bool whole)
{
    static const size_t least[N_CELL] = {5, 8, 7, 10, 11, 7, 10, 12, 12};
    size_t sum = 0;
    struct cells cells = {.text = {""}};
    memcpy(width, least, sizeof least);
    for (size_t k = 0; k < card->spots->n; k++) {
        fill_cells(&cells, card, k, whole);
        for (size_t i = 0; i < N_CELL; i++)
            if (strlen(cells.text[i]) >= width[i]) width[i] = strlen(cells.text[i]) + 1;
    }
    for (size_t i = 0; i < N_CELL; i++) sum += width[i];
    return sum;
}

/* Room to write in comes before the ends of ranges that do not harm. */
static void write_table(FILE *to, const struct brv_card *card)
{
    static const struct cells head[] = {
        {{"spot", "fluence", "energy", "grains disrupted, %", "", "model: sign in", "", "higher of both skins:", ""}},
        {{"", "J/cm2", "mJ", "lesion", "neighbour", "lesion", "neighbour", "hottest, C", "damage"}}};
    static const char line[SEEN + 1] = "____________________";
    size_t width[N_CELL];
    struct cells cells = {.text = {""}};
    const size_t all = lay_widths(width, card, true), some = lay_widths(width, card, false);
    const bool whole = all + SEEN_LEAST <= COLUMNS || (some + SEEN_LEAST > COLUMNS && all <= COLUMNS);
    const size_t sum = lay_widths(width, card, whole), left = sum + SEEN_LEAST > COLUMNS ? 0 : COLUMNS - sum,
                 cut = left < SEEN ? SEEN - left : 0;
    text_row(to, width, &head[0], left ? "seen" : "");
    text_row(to, width, &head[1], left < 12 ? "" : "(write here)");
    for (size_t k = 0; k < card->spots->n; k++) {
        fill_cells(&cells, card, k, whole);
        text_row(to, width, &cells, line + cut);
    }
}

void brv_card_text(FILE *to, const struct brv_card *card)
{
    const struct brv_request *request = card->request;
    char hash[BRV_HASH_SIZE];
    struct brv_sheet lines;
    fprintf(to, "brevis %s   TEST SPOTS   %s   [scenario %s]\n\n", BRV_VERSION,
            *request->title ? request->title : "(no title)", brv_hash_scenario(hash, &request->scenario));
    add_head(&lines, card);
    brv_sheet_text(to, &lines);
    fputc('\n', to);
    write_table(to, card);
    fputc('\n', to);
    add_all(&lines, card);
    brv_sheet_text(to, &lines);
}

/* ---- to print ---- */

static void put_head(FILE *to, const struct brv_card *card)
{
    const struct brv_request *request = card->request;
    struct brv_sheet lines;
    fputs("<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n" BRV_PAGE_POLICY
          "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>Test spots: ",
          to);
    brv_sheet_put_title(to, request->title);
    fprintf(to,
            "</title>\n<style>\n"
            "@page { size: A4; margin: 12mm }\n"
            "body { font: 9.5pt/1.25 sans-serif; color: #000; background: #fff; max-width: 190mm; margin: 4mm auto; "
            "padding: 0 4mm }\n"
            "h1 { font-size: 15pt; margin: 0 } p { overflow-wrap: anywhere; margin: 0.8mm 0 }\n"
            "table { border-collapse: collapse; width: 100%%; margin: 2mm 0; font-size: 7.6pt }\n"
            "th, td { border: 1px solid #000; padding: 0.5mm 0.7mm; text-align: left; vertical-align: top }\n"
            "td { height: 6mm } td.seen { min-width: 17mm } p { padding-left: 19mm; text-indent: -19mm }\n"
            ".wide { overflow-x: auto } .small { font-size: 7.6pt } b { display: inline-block; min-width: 19mm; "
            "text-indent: 0 } "
            "p.title { padding: 0; text-indent: 0 }\n"
            "%s</style>\n</head>\n<body>\n<h1>Test spots</h1>\n",
            card->spots->n > ROOMY ? "body { font-size: 8.5pt } td { height: 3mm } .small { font-size: 7.2pt }\n" : "");
    fputs("<p class=\"title\">", to);
    brv_sheet_put_title(to, request->title);
    fputs("</p>", to);
    add_head(&lines, card);
    brv_sheet_page(to, &lines, "");
}

static void put_table(FILE *to, const struct brv_card *card)
{
    const struct brv_test_spots *spots = card->spots;
    fputs("\n<div class=\"wide\"><table>\n<tr><th rowspan=\"2\">spot</th><th rowspan=\"2\">fluence, J/cm2</th>"
          "<th rowspan=\"2\">energy, mJ</th><th colspan=\"2\">grains disrupted, %</th><th colspan=\"2\">model: sign "
          "in</th>"
          "<th colspan=\"2\">higher of both skins</th>"
          "<th colspan=\"2\">seen (write here)</th></tr>\n"
          "<tr><th>lesion</th><th>neighbour</th><th>lesion</th><th>neighbour</th><th>hottest, "
          "C</th><th>damage</th><th>at once</th><th>after the wait"
          "</th></tr>\n",
          to);
    for (size_t k = 0; k < spots->n; k++) {
        struct cells cells = {.text = {""}};
        fill_cells(&cells, card, k, true);
        fputs("<tr>", to);
        for (size_t i = 0; i < N_CELL; i++) brv_sheet_put_in(to, "td", cells.text[i]);
        fputs("<td class=\"seen\"></td><td class=\"seen\"></td></tr>\n", to);
    }
    fputs("</table></div>\n<p class=\"title\">Laid on: ____________________ Looked at again: ____________________</p>\n"
          "<p class=\"title\">No names and no personal data belong on this card.</p>\n",
          to);
}

void brv_card_page(FILE *to, const struct brv_card *card)
{
    char hash[BRV_HASH_SIZE];
    struct brv_sheet lines;
    put_head(to, card);
    put_table(to, card);
    add_all(&lines, card);
    brv_sheet_page(to, &lines, " class=\"small\"");
    fprintf(to,
            "<p class=\"small\">brevis %s, scenario %s. A teaching model; the steps are those of the scenario.</p>\n",
            BRV_VERSION, brv_hash_scenario(hash, &card->request->scenario));
    fputs("</body>\n</html>\n", to);
}
