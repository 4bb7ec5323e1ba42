/* The table of a room card. */
#include "report/room.h"

#include "report/number.h"

#include <math.h>
#include <stdarg.h>

#define MANY 1e4

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

/* Three digits, from ten thousand on as a power of ten: "17949" would claim what no limit is known to. */
static const char *number_of(char out[BRV_NUMBER_SIZE], double value)
{
    if (!(value >= MANY)) return brv_number_short(out, value);
    snprintf(out, BRV_NUMBER_SIZE, "%.1e", value);
    return out;
}

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
    snprintf(out, BRV_ROOM_CELL_SIZE, "%.20s", one->beam > 0.0 ? number_of(number, one->beam) : "nowhere, as assumed");
}

static const char *distance(char out[BRV_NUMBER_SIZE], double value)
{
    return value > 0.0 ? number_of(out, value) : "not reached";
}

/* "2.82 (2.5 to 3.1)", "1.23 (not reached to 1.72)", "not reached (up to 1.2)", "not reached" */
static void write_range(char out[BRV_ROOM_CELL_SIZE], const struct brv_room_card *card, double value, double low,
                        double high)
{
    char middle[BRV_NUMBER_SIZE], least[BRV_NUMBER_SIZE], most[BRV_NUMBER_SIZE];
    if (card->hazard->reflectance_given || !(high > 0.0))
        snprintf(out, BRV_ROOM_CELL_SIZE, "%.20s", distance(middle, value));
    else if (!(value > 0.0))
        snprintf(out, BRV_ROOM_CELL_SIZE, "%.20s (up to %.20s)", distance(middle, value), distance(most, high));
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

/* Below 1 it says so itself: a small number in a column of large ones looks like leave to stand there. */
static void write_times(char out[BRV_ROOM_CELL_SIZE], double ratio)
{
    char number[BRV_NUMBER_SIZE];
    snprintf(out, BRV_ROOM_CELL_SIZE, "%.20s x%s", number_of(number, ratio),
             ratio < 1.0 ? ", as assumed here only" : "");
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
    if (pulses > 1.0) snprintf(each, sizeof each, "each of %.0f pulses", pulses);
    add_row(table, card, limit_of_eye, "LIMIT, eye, %.30s, J/m2", each);
    add_row(table, card, limit_of_skin, "  skin, %.30s, J/m2", each);
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
    if (card->hazard->divergence > 0.0) add_row(table, card, along_beam, "ALONG THE BEAM eye's limit met at, m");
    add_row(table, card, scattered_point, "SCATTERED, skin as a point, met at, m");
    add_row(table, card, scattered_spot, "  the same, skin as wide as the spot");
    if (room->distance > 0.0) {
        brv_number_unit(number, room->distance, BRV_LENGTH);
        add_row(table, card, person_point, "AT %.12s scattered / eye's limit, a point", number);
        add_row(table, card, person_spot, "  the same, skin as wide as the spot");
        if (card->hazard->divergence > 0.0)
            add_row(table, card, person_beam, "  in the beam at %.12s / eye's limit", number);
    }
    add_row(table, card, skin_ratio, "A HAND at the spot / skin's limit");
    add_row(table, card, lid_ratio, "CLOSED LID at the spot / eye's limit");
}
