#include "scenario/readings.h"

#include "command/command.h"
#include "scenario/bytes.h"
#include "scenario/document.h"
#include "scenario/keys.h"
#include "scenario/nearest.h"
#include "scenario/quantity.h"
#include "scenario/record.h"
#include "scenario/unit.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#define LAST_DAY 36600.0 /* a hundred years; a date written as one number, 20240511, lies far beyond */

enum { WRITTEN_SIZE = BRV_SHOWN_SIZE + 8 };

/* ---- columns ---- */

enum column { DAY, ENERGY_MJ, ENERGY_J, SPOT_MM, SET_MJ, N_COLUMN };

static const struct {
    const char *name, *unit; /* NULL: a plain number */
    enum brv_dimension dimension;
    enum brv_scope scope; /* of the key whose range it has */
    const char *key;
    bool may_be_empty;
} columns[N_COLUMN] = {
    [DAY] = {"day", NULL, BRV_PURE, BRV_SCOPE_LIGHT, NULL, false},
    [ENERGY_MJ] = {"energy_mJ", "mJ", BRV_ENERGY, BRV_SCOPE_LIGHT, "energy", false},
    [ENERGY_J] = {"energy_J", "J", BRV_ENERGY, BRV_SCOPE_LIGHT, "energy", false},
    [SPOT_MM] = {"spot_mm", "mm", BRV_LENGTH, BRV_SCOPE_LIGHT, "spot", true},
    [SET_MJ] = {"set_mJ", "mJ", BRV_ENERGY, BRV_SCOPE_LIGHT, "energy", true},
};

#define KNOWN "day, energy_mJ or energy_J, spot_mm, set_mJ"

/* ---- the header ---- */

struct head {
    size_t n;
    int at[BRV_MOST_FIELDS]; /* enum column of each field, -1: refused */
    bool there[N_COLUMN];
    bool usable;
};

static int column_called(const char *name)
{
    for (int i = 0; i < N_COLUMN; i++)
        if (!strcmp(name, columns[i].name)) return i;
    return -1;
}

static bool parted_by_semicolons(const struct brv_record *record)
{
    return record->n == 1 && strchr(record->field[0].text, ';');
}

static void refuse_name(struct brv_records *records, const struct brv_field *field)
{
    char shown[BRV_SHOWN_SIZE];
    struct brv_nearest nearest = {.word = field->text};
    for (int i = 0; i < N_COLUMN; i++) brv_nearest_offer(&nearest, columns[i].name);
    const bool known = nearest.best && *field->text;
    if (known && nearest.distance == 0) {
        brv_records_fault(records, field->line, field->column, "column \"%s\": did you mean %s?",
                          brv_fault_shown(shown, field->text), nearest.best);
        return;
    }
    brv_records_fault(records, field->line, field->column,
                      "column \"%s\": no device, no person: allowed only " KNOWN "%s%s%s",
                      brv_fault_shown(shown, field->text), known ? "; did you mean " : "", known ? nearest.best : "",
                      known ? "?" : "");
}

static void take_name(struct brv_records *records, struct head *head, const struct brv_field *field, size_t i)
{
    const int column = column_called(field->text);
    head->at[i] = column;
    if (column < 0)
        refuse_name(records, field);
    else if (head->there[column])
        brv_records_fault(records, field->line, field->column, "column %s stands twice", field->text);
    else
        head->there[column] = true;
}

static void take_head(struct brv_records *records, struct head *head, const struct brv_record *record)
{
    *head = (struct head){.n = record->n};
    if (parted_by_semicolons(record)) {
        brv_records_fault(
            records, record->line, 1,
            "columns are parted by semicolons, allowed are commas between columns and a point in numbers");
        return;
    }
    if (record->n > BRV_MOST_FIELDS) {
        brv_records_fault(records, record->line, 1, "%zu columns, allowed only " KNOWN, record->n);
        return;
    }
    for (size_t i = 0; i < record->n; i++) take_name(records, head, &record->field[i], i);
    head->usable = head->there[ENERGY_MJ] || head->there[ENERGY_J];
    if (!head->usable)
        brv_records_fault(records, record->line, 1,
                          "the column energy_mJ (or energy_J) is missing in the header; allowed " KNOWN);
    if (head->there[ENERGY_MJ] && head->there[ENERGY_J])
        brv_records_fault(records, record->line, 1, "energy_mJ and energy_J both stand here, allowed is one of them");
}

/* ---- numbers ---- */

static size_t digits(const char *text)
{
    return strspn(text, "0123456789");
}

/* Sign, digits with a point, exponent: how much of the text that is. */
static size_t number_length(const char *text)
{
    size_t n = *text == '+' || *text == '-';
    const size_t whole = digits(text + n);
    n += whole;
    size_t part = 0;
    if (text[n] == '.') {
        part = digits(text + n + 1);
        n += 1 + part;
    }
    if (whole + part == 0) return 0;
    if (text[n] == 'e' || text[n] == 'E') {
        const size_t sign = text[n + 1] == '+' || text[n + 1] == '-';
        const size_t power = digits(text + n + 1 + sign);
        if (power) n += 1 + sign + power;
    }
    return n;
}

static bool looks_like_date(const char *text)
{
    const size_t first = digits(text);
    return first > 0 && (text[first] == '-' || text[first] == '/' || text[first] == '.') && digits(text + first + 1) &&
           strpbrk(text + first + 1, "-/.:");
}

static void refuse_number(struct brv_records *records, const struct brv_field *field, int column, size_t length)
{
    char shown[BRV_SHOWN_SIZE];
    const char *why = "a number is allowed, such as 75.3";
    if (looks_like_date(field->text))
        why = "a date: not allowed, it could tell who and when; write a running number of the day, such as 0, 7, 14";
    else if (!*field->text)
        why = "nothing stands here, allowed is a number";
    else if (length > BRV_SHOWN_SIZE)
        why = "too long: no meter has so many digits, allowed is a number such as 75.3";
    else if (length && field->text[length] == ',')
        why = "a decimal comma, allowed is a point: 75.3";
    else if (length)
        why =
            "text after the number; its unit stands in the name of the column, allowed is a plain number such as 75.3";
    brv_records_fault(records, field->line, field->column, "%s = %s%s%s", columns[column].name,
                      brv_fault_shown(shown, field->text), *field->text ? ": " : "", why);
}

static void range_of(int column, double *least, double *most)
{
    *least = 0.0;
    *most = LAST_DAY;
    if (!columns[column].key) return;
    const struct brv_key *key = &brv_keys[brv_key_find(columns[column].scope, columns[column].key)];
    *least = key->least;
    *most = key->most;
}

static void refuse_range(struct brv_records *records, const struct brv_field *field, int column, double least,
                         double most)
{
    char shown[BRV_SHOWN_SIZE], from[BRV_UNIT_VALUE_SIZE], to[BRV_UNIT_VALUE_SIZE];
    const struct brv_unit *unit = columns[column].unit ? brv_unit_find(columns[column].unit) : NULL;
    brv_records_fault(records, field->line, field->column, "%s = %s, allowed %s to %s%s", columns[column].name,
                      brv_fault_shown(shown, field->text), brv_unit_value(from, least, unit),
                      brv_unit_value(to, most, unit),
                      column == DAY ? ": a whole running number, no date, no part of a day" : "");
}

/* The number of a field in SI; NAN: empty, or refused and told. */
static double take_number(struct brv_records *records, const struct brv_field *field, int column)
{
    char written[WRITTEN_SIZE], why[BRV_QUANTITY_WHY_SIZE];
    double value = (double)NAN, least, most;
    const size_t length = number_length(field->text);
    if (!*field->text && columns[column].may_be_empty) return value;
    if (!length || field->text[length] || length > BRV_SHOWN_SIZE) {
        refuse_number(records, field, column, length);
        return value;
    }
    snprintf(written, sizeof written, "%s %s", field->text, columns[column].unit ? columns[column].unit : "");
    if (!columns[column].unit) written[length] = '\0';
    range_of(column, &least, &most);
    const bool read = brv_quantity_read(&value, written, columns[column].dimension, why);
    const bool part =
        column == DAY && read && fabs(value - floor(value)) > 0.0; /* readings of one day share its slips */
    if (read && value >= least && value <= most && !part) return value;
    refuse_range(records, field, column, least, most); /* beyond all numbers is beyond the range too */
    return (double)NAN;
}

/* ---- rows ---- */

struct table {
    struct brv_readings *readings;
    size_t room;
    int set_line; /* where `set` was first told */
    double set;
};

static bool grow(struct table *table)
{
    struct brv_readings *readings = table->readings;
    if (readings->n < table->room) return true;
    const size_t room = table->room ? 2 * table->room : 64;
    struct brv_meter_reading *grown = realloc(readings->reading, room * sizeof *grown);
    if (!grown) return false;
    readings->reading = grown;
    table->room = room;
    return true;
}

/* Readings at two settings are no sample of one thing. */
static void hold_to_one_setting(struct brv_records *records, struct table *table, const struct brv_field *field,
                                double set)
{
    char shown[BRV_SHOWN_SIZE];
    if (!table->set_line) {
        table->set_line = field->line;
        table->set = set;
    } else if (fabs(set - table->set) > 0.0) {
        brv_records_fault(records, field->line, field->column,
                          "set_mJ = %s, but %.6g in line %d: one file holds the readings of one setting",
                          brv_fault_shown(shown, field->text), 1e3 * table->set, table->set_line);
    }
}

static void take_row(struct brv_records *records, struct table *table, const struct head *head,
                     const struct brv_record *record)
{
    struct brv_meter_reading reading = {(double)NAN, (double)NAN, (double)NAN, (double)NAN};
    for (size_t i = 0; i < head->n; i++) {
        const struct brv_field *field = &record->field[i];
        if (head->at[i] < 0) continue;
        const double value = take_number(records, field, head->at[i]);
        if (head->at[i] == DAY) reading.day = value;
        if (head->at[i] == ENERGY_MJ || head->at[i] == ENERGY_J) reading.energy = value;
        if (head->at[i] == SPOT_MM) reading.spot = value;
        if (head->at[i] != SET_MJ || isnan(value)) continue;
        reading.set = value;
        hold_to_one_setting(records, table, field, value);
    }
    table->readings->reading[table->readings->n++] = reading;
}

static void refuse_count(struct brv_records *records, const struct head *head, const struct brv_record *record)
{
    if (record->blank)
        brv_records_fault(records, record->line, 1, "an empty line between rows");
    else
        brv_records_fault(records, record->line, 1, "%zu fields where the header names %zu%s", record->n, head->n,
                          record->n > head->n ? "; a decimal comma parts a number in two: allowed is a point, 75.3"
                                              : "");
}

/* Empty lines are let pass at the end of the file only. */
static void take_rows(struct brv_records *records, struct table *table, const struct head *head)
{
    struct brv_record record;
    while (brv_records_take(records, &record) && !records->broken && records->faults->n < BRV_MOST_RECORD_FAULTS) {
        if (record.blank && brv_records_rest_is_blank(records)) return;
        if (record.n != head->n || record.blank) {
            refuse_count(records, head, &record);
            continue;
        }
        if (table->readings->n == BRV_MOST_READINGS) {
            brv_records_fault(records, record.line, 1, "more than %d rows", (int)BRV_MOST_READINGS);
            return;
        }
        if (!grow(table)) {
            records->faults->out_of_memory = 1;
            return;
        }
        take_row(records, table, head, &record);
    }
}

static void take_table(struct brv_records *records, struct brv_readings *readings)
{
    struct brv_record record;
    struct head head;
    struct table table = {.readings = readings};
    if (brv_records_rest_is_blank(records)) {
        brv_faults_add(records->faults, records->file, 0, 0,
                       "is empty: wanted are a header, allowed " KNOWN ", and rows");
        return;
    }
    if (!brv_records_take(records, &record) || records->broken) return;
    take_head(records, &head, &record);
    if (!head.usable) return;
    const size_t before = records->faults->n;
    take_rows(records, &table, &head);
    if (!readings->n && records->faults->n == before)
        brv_faults_add(records->faults, records->file, 0, 0, "holds a header and no readings");
    if (records->faults->n >= BRV_MOST_RECORD_FAULTS)
        brv_faults_add(records->faults, records->file, 0, 0, "more may be wrong: after %d faults the rest was not read",
                       (int)BRV_MOST_RECORD_FAULTS);
}

/* ---- the file ---- */

/* Insertion keeps the order of the file within a day; a log is mostly in order already. */
static void sort_by_day(struct brv_readings *readings)
{
    for (size_t i = 1; i < readings->n; i++) {
        const struct brv_meter_reading moved = readings->reading[i];
        size_t to = i;
        for (; to > 0 && readings->reading[to - 1].day > moved.day; to--)
            readings->reading[to] = readings->reading[to - 1];
        readings->reading[to] = moved;
    }
}

static void parse_text(struct brv_readings *readings, const char *name, const char *text, size_t size,
                       struct brv_faults *faults)
{
    struct brv_records records;
    if (brv_records_begin(&records, name, text, size, faults))
        take_table(&records, readings);
    else
        faults->out_of_memory = 1;
    brv_records_free(&records);
}

int brv_readings_parse(struct brv_readings *readings, const char *name, const char *text, size_t size,
                       struct brv_faults *faults)
{
    const size_t before = faults->n;
    *readings = (struct brv_readings){.n = 0};
    if (size > BRV_DOCUMENT_BYTES)
        brv_faults_add(faults, name, 0, 0, "is larger than 1 MiB: these are not readings of a meter");
    else if (brv_bytes_are_text(name, text, size, faults))
        parse_text(readings, name, text, size, faults);
    brv_faults_sort(faults, name);
    if (!faults->out_of_memory && faults->n == before) {
        sort_by_day(readings);
        return BRV_EXIT_DONE;
    }
    brv_readings_free(readings);
    return faults->out_of_memory ? BRV_EXIT_MEMORY : BRV_EXIT_REFUSED;
}

int brv_readings_read(struct brv_readings *readings, const char *path, struct brv_faults *faults)
{
    char *text;
    size_t size;
    *readings = (struct brv_readings){.n = 0};
    int code = brv_document_load(&text, &size, path, faults);
    if (!code) code = brv_readings_parse(readings, brv_document_called(path), text, size, faults);
    free(text);
    return code;
}

void brv_readings_free(struct brv_readings *readings)
{
    free(readings->reading);
    *readings = (struct brv_readings){.n = 0};
}
