/* What stands around the table of a room card. */
#include "report/room.h"

#include "base/constants.h"
#include "report/asked.h"
#include "report/caution.h"
#include "report/number.h"
#include "scenario/film.h"
#include "scenario/keys.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#define PHOTOCHEMICAL_TO   600e-9 /* wavelength [m]; Source: [directive-2006-25] */
#define PHOTOCHEMICAL_FROM 10.0   /* exposure [s] */
#define COVERED            1e-9   /* pulses that ICNIRP 2013 covers begin there [s]; Source: [icnirp-2013] */
#define BUBBLES            1e-6   /* pulses below this hurt the retina by bubbles [s]; Source: [schmidt-2015] */

/* ---- above the table ---- */

/* All that --set changed, in one line. */
static void add_changes(struct brv_sheet *sheet, const struct brv_room_card *card)
{
    char all[BRV_SHEET_LINE_SIZE] = "";
    size_t used = 0;
    for (size_t i = 0; i < card->n_set && used < sizeof all; i++)
        used += (size_t)snprintf(all + used, sizeof all - used, "%s%s", i ? "; " : "", card->set[i]);
    if (card->n_set) brv_sheet_add(sheet, "CHANGED", "%s", all);
}

static void add_asked(struct brv_sheet *sheet, const struct brv_room_card *card)
{
    const struct brv_scenario *ask = &card->request->scenario;
    char pulse[BRV_NUMBER_SIZE], energy[BRV_NUMBER_SIZE], spot[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE],
        outside[BRV_ASKED_SIZE];
    brv_sheet_add(
        sheet, "ASKED", "%.4g nm, %s %s pulse, %s through a %s %s spot: %s%s; %s on the skin.",
        1e9 * ask->beam.wavelength, brv_number_unit(pulse, ask->pulse.width, BRV_TIME),
        brv_key_word(BRV_SCOPE_PULSE, "shape", ask->pulse.shape), brv_number_unit(energy, ask->beam.energy, BRV_ENERGY),
        brv_number_unit(spot, ask->beam.spot, BRV_LENGTH), brv_key_word(BRV_SCOPE_LIGHT, "profile", ask->beam.profile),
        brv_number_unit(fluence, card->hazard->fluence, BRV_FLUENCE),
        ask->beam.profile == BRV_PROFILE_GAUSSIAN ? " on its axis, twice energy / area" : "",
        brv_asked_meets(outside, ask));
    add_changes(sheet, card);
}

/* What else the scenario says that makes the numbers smaller, or that they leave aside. */
static void add_conditions(struct brv_sheet *sheet, const struct brv_room_card *card)
{
    const struct brv_scenario *ask = &card->request->scenario;
    if (ask->room.view > 0.0)
        brv_sheet_add(sheet, "",
                      "The spot is seen %.3g degrees from straight above (room.view), where less scattered light goes.",
                      180.0 / BRV_PI * ask->room.view);
    if (brv_pulse_total(&ask->pulse) > 1)
        brv_sheet_add(sheet, "",
                      "The scenario's own %zu pulses on one place are left aside: room.rate and room.stay say what "
                      "reaches a person.",
                      brv_pulse_total(&ask->pulse));
}

static void add_room(struct brv_sheet *sheet, const struct brv_room_card *card)
{
    const struct brv_room_ask *room = &card->request->scenario.room;
    char stay[BRV_NUMBER_SIZE], rate[BRV_NUMBER_SIZE], beam[BRV_NUMBER_SIZE], spread[BRV_NUMBER_SIZE],
        said[BRV_SHEET_LINE_SIZE] = "how the beam spreads is not given (room.beam): nothing is said of the beam itself";
    if (room->beam > 0.0 && room->lens > 0.0)
        snprintf(said, sizeof said, "%.20s beam (1/e2), from the focus of a %.20s lens",
                 brv_number_unit(beam, room->beam, BRV_LENGTH), brv_number_unit(spread, room->lens, BRV_LENGTH));
    else if (room->beam > 0.0)
        snprintf(said, sizeof said, "beam %.20s wide (1/e2), full angle %.20s",
                 brv_number_unit(beam, room->beam, BRV_LENGTH), brv_number_unit(spread, room->divergence, BRV_ANGLE));
    if (room->rate > 0.0)
        brv_sheet_add(sheet, "ROOM", "%s pulses a second reach one person for %s; %s.",
                      brv_number_short(rate, room->rate), brv_number_unit(stay, room->stay, BRV_TIME), said);
    else /* the lenient case must not pass unseen */
        brv_sheet_add(sheet, "ROOM", "no rate given (room.rate): one single pulse; a train has stricter limits. %c%s.",
                      toupper((unsigned char)*said), said + 1);
    add_conditions(sheet, card);
}

static void add_editions(struct brv_sheet *sheet, const struct brv_room_card *card)
{
    const struct brv_hazard_edition *edition = card->hazard->edition;
    if (edition[BRV_EU_2006].asked)
        brv_sheet_add(
            sheet, "EDITION",
            "EU 2006: directive 2006/25/EC, annex II, as printed in a national law; seen. Values of 1996/2000.");
    if (edition[BRV_ICNIRP_2013].asked)
        brv_sheet_add(
            sheet, edition[BRV_EU_2006].asked ? "" : "EDITION",
            "ICNIRP 2013: Health Phys. 105, 271, second-hand: in copies of its tables that agree, not in the paper.");
    if (edition[BRV_ICNIRP_2013].asked && !edition[BRV_ICNIRP_2013].exposure[BRV_EYE].covered)
        brv_sheet_add(sheet, "", "ICNIRP 2013 does not cover this pulse: its rows hold 1 ns to 30000 s.");
}

void brv_room_head(struct brv_sheet *sheet, const struct brv_room_card *card)
{
    sheet->n = 0;
    add_asked(sheet, card);
    add_room(sheet, card);
    add_editions(sheet, card);
    brv_sheet_add(sheet, "CAUTION",
                  "To learn from, not to fit out a room by. Eyewear, signs and room rules belong to the laser "
                  "protection adviser and the edition in force. No number here says that any eyewear is enough.");
}

/* ---- below it: how to read the table ---- */

static bool is_train(const struct brv_room_card *card)
{
    return card->hazard->edition[BRV_EU_2006].exposure[BRV_EYE].pulses > 1.0;
}

static void add_rules(struct brv_sheet *sheet, const struct brv_room_card *card)
{
    if (is_train(card))
        brv_sheet_add(
            sheet, "RULES",
            "1: a pulse alone; 2: all pulses of any stretch of time; 3: rule 1 times N^-1/4. The smallest binds.");
}

static void add_photochemical(struct brv_sheet *sheet, const struct brv_scenario *ask)
{
    if (ask->beam.wavelength >= PHOTOCHEMICAL_TO || ask->room.stay < PHOTOCHEMICAL_FROM || !(ask->room.rate > 0.0))
        return;
    brv_sheet_add(
        sheet, "MISSING",
        "nobody here saw the photochemical limits (400-600 nm, from 10 s on): not computed, may be stricter.");
}

static void add_density(struct brv_sheet *sheet)
{
    brv_sheet_add(
        sheet, "DENSITY",
        "a number of light, no choice of eyewear: log10(exposure / limit). A limit means what a 7 mm pupil takes in; "
        "a narrower spot is denser, and a filter meets the denser. EN 207 numbers differ from it.");
}

/* What the numbers take for granted. */
static void add_taken(struct brv_sheet *sheet)
{
    brv_sheet_add(sheet, "TAKEN",
                  "a naked eye, no loupe. 20 %% of energy: 0.1 of density, 10 %% of distance, 20 %% or more if wide.");
}

static bool answers(const struct brv_hazard_edition *one)
{
    return one->asked && one->exposure[BRV_EYE].covered && one->exposure[BRV_SKIN].covered;
}

static bool stays_below(const struct brv_scattered *scattered)
{
    return !(scattered->distance > 0.0);
}

static bool any_unreached(const struct brv_hazard *hazard)
{
    for (int edition = 0; edition < BRV_N_EDITION; edition++) {
        const struct brv_hazard_edition *one = &hazard->edition[edition];
        if (answers(one) && (stays_below(&one->scattered) || stays_below(&one->least) || stays_below(&one->most)))
            return true;
    }
    return false;
}

/* Without this line "not reached" is read as a distance of nought. */
static void add_unreached(struct brv_sheet *sheet, const struct brv_hazard *hazard)
{
    if (any_unreached(hazard))
        brv_sheet_add(
            sheet, "DISTANCE",
            "not reached: counted that wide, below the limit at any distance; take the row above it, as a point.");
}

static void add_below_one(struct brv_sheet *sheet, const struct brv_hazard *hazard)
{
    bool any = false;
    for (int edition = 0; edition < BRV_N_EDITION; edition++) {
        const struct brv_hazard_edition *one = &hazard->edition[edition];
        if (!answers(one)) continue;
        any = any || one->person < 1.0 || one->person_extent < 1.0 || one->person_beam < 1.0 || one->skin_ratio < 1.0 ||
              one->lid_ratio < 1.0;
    }
    if (any)
        brv_sheet_add(sheet, "BELOW 1",
                      "is below this limit under these assumptions only, and no leave to go without.");
}

static void add_distances(struct brv_sheet *sheet, const struct brv_room_card *card)
{
    const struct brv_hazard *hazard = card->hazard;
    const struct brv_bounds *share = &hazard->reflectance;
    const bool film = brv_film_covers(&card->request->scenario.skin[BRV_NEIGHBOUR]);
    char range[BRV_SHEET_LINE_SIZE] = ", as given", percent[BRV_NUMBER_SIZE];
    if (!hazard->reflectance_given)
        snprintf(range, sizeof range, " (%.2g to %.2g: grains 3.16-0.316 x dark)", 100.0 * share->low,
                 100.0 * share->high);
    brv_sheet_add(sheet, "SCATTER", "%s %% of light%s returns%s; metal and glass mirror the beam itself.",
                  brv_number_two(percent, 100.0 * share->value), range,
                  film && !hazard->reflectance_given
                      ? " from the skin without its film, which may be gone after one pulse and is no shield"
                      : "");
}

static void add_skin(struct brv_sheet *sheet)
{
    brv_sheet_add(sheet, "SKIN", "the limit of skin protects bystanders; treatment is far above it by intent.");
}

static void add_lid(struct brv_sheet *sheet, const struct brv_room_card *card)
{
    const struct brv_lid *lid = &card->hazard->lid;
    brv_sheet_add(sheet, "LID",
                  "%.2g %% (%.2g to %.2g) passes %.3g mm, of it dermis (room.lid) %.3g mm. It comes out scattered, no "
                  "longer the beam that the row takes it for. A reason for shields, never a way without them.",
                  100.0 * lid->passes.value, 100.0 * lid->passes.low, 100.0 * lid->passes.high, 1e3 * lid->whole,
                  1e3 * lid->dermis);
}

void brv_room_notes(struct brv_sheet *sheet, const struct brv_room_card *card)
{
    sheet->n = 0;
    add_rules(sheet, card);
    add_photochemical(sheet, &card->request->scenario);
    add_density(sheet);
    add_taken(sheet);
    add_unreached(sheet, card->hazard);
    add_below_one(sheet, card->hazard);
    add_distances(sheet, card);
    add_skin(sheet);
    add_lid(sheet, card);
}

/* ---- what stands behind the numbers ---- */

/* "90 t^0.75 C_C C_E J/m2" */
static void write_formula(char out[BRV_SHEET_LINE_SIZE], const struct brv_exposure_row *row)
{
    char coefficient[BRV_NUMBER_SIZE], power[32] = "";
    if (row->exponent > 0.0) snprintf(power, sizeof power, " t^%.2g", row->exponent);
    snprintf(out, BRV_SHEET_LINE_SIZE, "%.20s%s%s%s%s %s", brv_number_short(coefficient, row->coefficient), power,
             row->factors & BRV_FACTOR_A ? " C_A" : "", row->factors & BRV_FACTOR_C ? " C_C" : "",
             row->factors & BRV_FACTOR_E ? " C_E" : "", row->irradiance ? "W/m2" : "J/m2");
}

/* "eye 1050-1400 c, 1 ns to 50 us: 0.05 C_C C_E J/m2" */
static void write_row(char out[BRV_SHEET_LINE_SIZE], const struct brv_exposure_row *row)
{
    char from[BRV_NUMBER_SIZE], to[BRV_NUMBER_SIZE], formula[BRV_SHEET_LINE_SIZE];
    write_formula(formula, row);
    snprintf(out, BRV_SHEET_LINE_SIZE, "%.30s, %.20s to %.20s: %.120s", row->name,
             brv_number_unit(from, row->from, BRV_TIME), brv_number_unit(to, row->to, BRV_TIME), formula);
}

static void add_rows(struct brv_sheet *sheet, const struct brv_room_card *card)
{
    const char *label = "ROWS";
    for (int edition = 0; edition < BRV_N_EDITION; edition++) {
        const struct brv_hazard_edition *one = &card->hazard->edition[edition];
        char eye[BRV_SHEET_LINE_SIZE], skin[BRV_SHEET_LINE_SIZE];
        if (!one->asked || !one->exposure[BRV_EYE].row || !one->exposure[BRV_SKIN].row) continue;
        write_row(eye, one->exposure[BRV_EYE].row);
        write_row(skin, one->exposure[BRV_SKIN].row);
        brv_sheet_add(sheet, label, "%s: %.250s; %.250s.", brv_room_edition(edition), eye, skin);
        label = "";
        for (int organ = 0; organ < BRV_N_ORGAN; organ++) {
            if (one->exposure[organ].binding != BRV_RULE_SUM) continue;
            write_row(eye, one->exposure[organ].sum);
            brv_sheet_add(sheet, "", "rule 2 by %.250s.", eye);
        }
    }
}

/* Rows that nobody could check: what they would say here, never used. */
static void add_others(struct brv_sheet *sheet, const struct brv_scenario *ask)
{
    const char *label = "NOT USED";
    for (size_t i = 0; i < brv_n_exposure_others; i++) {
        const struct brv_exposure_row *row = &brv_exposure_others[i];
        const struct brv_exposure_ask at = {
            .edition = BRV_ICNIRP_2013, .organ = row->organ, .wavelength = ask->beam.wavelength};
        char text[BRV_SHEET_LINE_SIZE], limit[BRV_NUMBER_SIZE];
        if (ask->beam.wavelength < row->from_wavelength || ask->beam.wavelength >= row->to_wavelength ||
            ask->pulse.width < row->from || ask->pulse.width >= row->to)
            continue;
        write_row(text, row);
        brv_sheet_add(sheet, label, "%.300s; here %s J/m2. Shown, not used: %s.", text,
                      brv_number_short(limit, brv_exposure_by_row(row, &at, ask->pulse.width)),
                      !strcmp(row->seen, "memory") ? "known from memory only" : "seen in one copy");
        label = "";
    }
}

/* What the two rules of trains leave open. */
static void add_open_rules(struct brv_sheet *sheet, const struct brv_room_card *card)
{
    const struct brv_hazard_edition *edition = card->hazard->edition;
    if (!is_train(card)) return;
    if (edition[BRV_ICNIRP_2013].asked)
        brv_sheet_add(
            sheet, "TRAINS",
            "ICNIRP 2013 keeps rule 3 for some trains of the retina; that text was not seen, so it is used for all "
            "of the eye, the stricter reading, and for skin not at all.");
    if (edition[BRV_EU_2006].asked && edition[BRV_EU_2006].exposure[BRV_EYE].cut)
        brv_sheet_add(sheet, edition[BRV_ICNIRP_2013].asked ? "" : "TRAINS",
                      "EU 2006: rows of the eye from 10 s on were not seen; rule 2 was looked at up to 10 s.");
}

static void add_reading(struct brv_sheet *sheet, const struct brv_room_card *card)
{
    char mirrored[BRV_NUMBER_SIZE];
    const struct brv_hazard *hazard = card->hazard;
    const struct brv_room_ask *room = &card->request->scenario.room;
    brv_sheet_add(sheet, "READING",
                  "Nothing is "
                  "taken off for air, a window or a blink. A wide source is allowed more (C_E), from the distance at "
                  "which its light is met.");
    if (card->request->scenario.beam.profile == BRV_PROFILE_GAUSSIAN)
        brv_sheet_add(sheet, "", "A gaussian spot counts as wide as its 1/e edges, spot over the root of 2.");
    brv_sheet_add(sheet, "",
                  "This surface of the skin mirrors %s %% of the beam as a beam; that of a gel or a plate does too.",
                  brv_number_two(mirrored, 100.0 * hazard->mirrored));
    if (any_unreached(hazard)) brv_sheet_add(sheet, "", "not reached: looked for from the width of the spot outwards.");
    brv_sheet_add(sheet, "",
                  "Lid: this skin with a dermis of %.3g mm%s, pigment 3.16 to 0.316 times as dark; muscle and "
                  "conjunctiva are not in it.",
                  1e3 * hazard->lid.dermis,
                  brv_key_given(room, BRV_SCOPE_ROOM, "lid") ? "" : " (0.76 to 0.58, by sections and by ultrasound)");
}

static void add_change(struct brv_sheet *sheet, const struct brv_scenario *ask)
{
    if (ask->pulse.width < COVERED || ask->pulse.width >= BUBBLES) return;
    brv_sheet_add(
        sheet, "2013",
        "the limit of the eye for nanoseconds fell 2.5 times (0.05 to 0.02 J/m2 at 1064 nm): below about 1 us "
        "the retina is hurt by bubbles around its melanosomes, at about a tenth of what warmth alone takes "
        "(retina-bubbles-2007, schmidt-2015; abstracts). The same light then asks for 0.4 more in density.");
}

void brv_room_background(struct brv_sheet *sheet, const struct brv_room_card *card)
{
    char cautions[BRV_CAUTION_SIZE];
    sheet->n = 0;
    add_reading(sheet, card);
    add_open_rules(sheet, card);
    add_rows(sheet, card);
    add_others(sheet, &card->request->scenario);
    add_change(sheet, &card->request->scenario);
    brv_sheet_add(sheet, "INJURIES",
                  "published eye injuries in dermatologic laser work: 119 cases, 60 by light that met the eye, 52 of "
                  "these 60 patients, wrong or no protection in 44, lasting in 31 (flegel-2022). Facial cosmetic work: "
                  "21 cases, a third of them despite shields or goggles (huang-eyes). Cases, not rates.");
    brv_sheet_add(sheet, "PLUME",
                  "nanosecond pulses throw up plume and splatter: barrier or evacuator, mask, gloves (plume-2017).");
    brv_sheet_add(sheet, "CAUTION", "%s", brv_caution_text(cautions));
}
