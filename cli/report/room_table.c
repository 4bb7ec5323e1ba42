/* The table of a room card. */
#include "report/room.h"

#include "report/number.h"

#include <math.h>
#include <stdarg.h>

const char *brv_room_edition(int edition)
{
    static const char *const name[BRV_N_EDITION] = {"EU 2006", "ICNIRP 2013"};
    return name[edition];
}

/* One cell of an edition that covers the pulse. */
typedef void write_cell(char out[BRV_ROOM_CELL_SIZE], const struct brv_room_card *card,
                        const struct brv_hazard_edition *one);

static bool covers(const struct brv_hazard_edition *one)
{
    return one->exposure[BRV_EYE].covered && one->exposure[BRV_SKIN].covered;
}

static void add_row(struct brv_room_table *table, const struct brv_room_card *card, write_cell *write,
                    const char *format, ...) __attribute__((format(printf, 4, 5)));

static void add_row(struct brv_room_table *table, const struct brv_room_card *card, write_cell *write,
                    const char *format, ...)
{
    struct brv_room_row *row = &table->row[table->n_row];
    va_list list;
    va_start(list, format);
    vsnprintf(row->name, sizeof row->name, format, list);
    va_end(list);
    for (size_t i = 0; i < table->n_column; i++) {
        const struct brv_hazard_edition *one = &card->hazard->edition[table->edition[i]];
        if (covers(one))
            write(row->cell[i], card, one);
        else
            snprintf(row->cell[i], BRV_ROOM_CELL_SIZE, table->n_row ? "-" : "does not cover this pulse");
    }
    table->n_row++;
}

/* ---- cells ---- */

/* "0.0188 (rule 3; alone 0.05)" */
static void write_limit(char out[BRV_ROOM_CELL_SIZE], const struct brv_exposure *exposure)
{
    char each[BRV_NUMBER_SIZE], alone[BRV_NUMBER_SIZE];
    brv_number_short(each, exposure->limit);
    brv_number_short(alone, exposure->rule[BRV_RULE_ONE]);
    if (exposure->pulses > 1.0)
        snprintf(out, BRV_ROOM_CELL_SIZE, "%.20s (rule %d; alone %.20s)", each, exposure->binding + 1, alone);
    else
        snprintf(out, BRV_ROOM_CELL_SIZE, "%.20s", each);
}

static void limit_of_eye(char out[BRV_ROOM_CELL_SIZE], const struct brv_room_card *card,
                         const struct brv_hazard_edition *one)
{
    (void)card;
    write_limit(out, &one->exposure[BRV_EYE]);
}

static void limit_of_skin(char out[BRV_ROOM_CELL_SIZE], const struct brv_room_card *card,
                          const struct brv_hazard_edition *one)
{
    (void)card;
    write_limit(out, &one->exposure[BRV_SKIN]);
}

static void density(char out[BRV_ROOM_CELL_SIZE], const struct brv_room_card *card,
                    const struct brv_hazard_edition *one)
{
    (void)card;
    snprintf(out, BRV_ROOM_CELL_SIZE, "%.2f (pupil %.2f, spot %.2f)", one->density, one->density_pupil,
             one->density_spot);
}

static void along_beam(char out[BRV_ROOM_CELL_SIZE], const struct brv_room_card *card,
                       const struct brv_hazard_edition *one)
{
    (void)card;
    char number[BRV_NUMBER_SIZE];
    snprintf(out, BRV_ROOM_CELL_SIZE, "%.20s", brv_number_short(number, one->beam));
}

static const char *distance(char out[BRV_NUMBER_SIZE], double value)
{
    return value > 0.0 ? brv_number_short(out, value) : "none";
}

/* "2.82 (2.5 to 3.1)" */
static void write_range(char out[BRV_ROOM_CELL_SIZE], const struct brv_room_card *card, double value, double low,
                        double high)
{
    char middle[BRV_NUMBER_SIZE], least[BRV_NUMBER_SIZE], most[BRV_NUMBER_SIZE];
    if (card->hazard->reflectance_given)
        snprintf(out, BRV_ROOM_CELL_SIZE, "%.20s", distance(middle, value));
    else
        snprintf(out, BRV_ROOM_CELL_SIZE, "%.20s (%.20s to %.20s)", distance(middle, value), distance(least, low),
                 distance(most, high));
}

static void scattered_point(char out[BRV_ROOM_CELL_SIZE], const struct brv_room_card *card,
                            const struct brv_hazard_edition *one)
{
    write_range(out, card, one->scattered.point, one->least.point, one->most.point);
}

static void scattered_spot(char out[BRV_ROOM_CELL_SIZE], const struct brv_room_card *card,
                           const struct brv_hazard_edition *one)
{
    write_range(out, card, one->scattered.distance, one->least.distance, one->most.distance);
}

static void write_times(char out[BRV_ROOM_CELL_SIZE], double ratio)
{
    char number[BRV_NUMBER_SIZE];
    snprintf(out, BRV_ROOM_CELL_SIZE, "%.20s x", brv_number_short(number, ratio));
}

static void person_point(char out[BRV_ROOM_CELL_SIZE], const struct brv_room_card *card,
                         const struct brv_hazard_edition *one)
{
    (void)card;
    write_times(out, one->person);
}

static void person_spot(char out[BRV_ROOM_CELL_SIZE], const struct brv_room_card *card,
                        const struct brv_hazard_edition *one)
{
    (void)card;
    write_times(out, one->person_extent);
}

static void person_beam(char out[BRV_ROOM_CELL_SIZE], const struct brv_room_card *card,
                        const struct brv_hazard_edition *one)
{
    (void)card;
    write_times(out, one->person_beam);
}

static void skin_ratio(char out[BRV_ROOM_CELL_SIZE], const struct brv_room_card *card,
                       const struct brv_hazard_edition *one)
{
    (void)card;
    write_times(out, one->skin_ratio);
}

static void lid_ratio(char out[BRV_ROOM_CELL_SIZE], const struct brv_room_card *card,
                      const struct brv_hazard_edition *one)
{
    (void)card;
    write_times(out, one->lid_ratio);
}

/* ---- rows ---- */

static void add_limits(struct brv_room_table *table, const struct brv_room_card *card)
{
    char each[BRV_ROOM_CELL_SIZE] = "one pulse";
    const double pulses = card->hazard->edition[table->edition[0]].exposure[BRV_EYE].pulses;
    if (pulses > 1.0) snprintf(each, sizeof each, "each of %.0f", pulses);
    add_row(table, card, limit_of_eye, "LIMIT for the eye, %.30s, J/m2", each);
    add_row(table, card, limit_of_skin, "  for skin, %.30s, J/m2", each);
}

void brv_room_tabulate(struct brv_room_table *table, const struct brv_room_card *card)
{
    const struct brv_room_ask *room = &card->request->scenario.room;
    char number[BRV_NUMBER_SIZE];
    *table = (struct brv_room_table){.n_row = 0};
    for (int edition = 0; edition < BRV_N_EDITION; edition++)
        if (card->hazard->edition[edition].asked) table->edition[table->n_column++] = edition;
    add_limits(table, card);
    add_row(table, card, density, "OPTICAL DENSITY, the larger of two");
    if (card->hazard->divergence > 0.0) add_row(table, card, along_beam, "ALONG THE BEAM the eye's is met at, m");
    add_row(table, card, scattered_point, "SCATTERED from skin, met at, m");
    add_row(table, card, scattered_spot, "  the same, source as wide as the spot");
    if (room->distance > 0.0) {
        brv_number_unit(number, room->distance, BRV_LENGTH);
        add_row(table, card, person_point, "AT %.12s scattered, over the eye's limit", number);
        add_row(table, card, person_spot, "  the same, source as wide as the spot");
        if (card->hazard->divergence > 0.0) add_row(table, card, person_beam, "  in the beam, over the eye's limit");
    }
    add_row(table, card, skin_ratio, "A HAND in the beam, over skin's limit");
    add_row(table, card, lid_ratio, "CLOSED LID, what passes, over the eye's");
}
