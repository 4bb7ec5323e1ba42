#include "scenario/vary.h"

#include "scenario/allowed.h"
#include "scenario/bytes.h"
#include "scenario/quantity.h"
#include "scenario/unit.h"
#include "scenario/walk.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define FORM                                                                                                           \
    "KEY=FROM..TO:N is wanted, with :log after N where steps of the logarithm are, as in light.spot=2mm..10mm:9"

/* ---- faults ---- */

const char *brv_vary_place(char out[BRV_VARY_PLACE_SIZE], const char *path)
{
    char shown[BRV_SHOWN_SIZE];
    snprintf(out, BRV_VARY_PLACE_SIZE, "--vary %s", brv_fault_shown(shown, path));
    return out;
}

__attribute__((format(printf, 4, 5))) static bool refuse(const struct brv_vary *vary, int column,
                                                         struct brv_faults *faults, const char *format, ...)
{
    char place[BRV_VARY_PLACE_SIZE], text[512];
    va_list words;
    va_start(words, format);
    vsnprintf(text, sizeof text, format, words);
    va_end(words);
    brv_faults_add(faults, brv_vary_place(place, vary->path), 1, column, "%s", text);
    return false;
}

/* ---- the key ---- */

static bool is_number(const struct brv_key *key)
{
    return key->kind == BRV_QUANTITY || key->kind == BRV_NUMBER || key->kind == BRV_EXTENT;
}

static const struct brv_key *key_in(const char *section, const char *name)
{
    const int row = brv_walk_row(section, name);
    return row < 0 ? NULL : &brv_keys[row];
}

static int layer_called(const struct brv_request *names, const char *name)
{
    for (size_t i = 0; i < BRV_MOST_LAYERS; i++)
        if (*names->layer_name[i] && !strcmp(names->layer_name[i], name)) return (int)i;
    return -1;
}

/* The key that a path leads to, where that is simple; whatever else a path is, the reader of scenarios says best. */
static void look_up(struct brv_vary *vary, const struct brv_request *names)
{
    char path[BRV_VARY_PATH_SIZE];
    snprintf(path, sizeof path, "%s", vary->path);
    char *dot = strchr(path, '.'), *last = strrchr(path, '.');
    vary->site = BRV_NEIGHBOUR;
    if (!dot) return;
    const bool lesion = !strncmp(path, "lesion.", 7), skin = !strncmp(path, "skin.", 5);
    *dot = *last = '\0';
    if (dot == last) {
        if (!skin && !lesion) vary->key = key_in(path, last + 1);
        return;
    }
    const int layer = layer_called(names, dot + 1);
    const bool grain = lesion && !strcmp(dot + 1, "grain");
    if (lesion) vary->site = BRV_LESION;
    if (skin && !strcmp(dot + 1, "colour"))
        vary->key = key_in("skin.colour", last + 1);
    else if (grain)
        vary->key = key_in("grain", last + 1);
    else if ((lesion || skin) && layer >= 0)
        vary->key = key_in("skin", last + 1);
    vary->layer = grain || layer < 0 ? 0 : (size_t)layer;
}

static bool refuse_kind(const struct brv_vary *vary, struct brv_faults *faults)
{
    char allowed[BRV_ALLOWED_SIZE];
    brv_allowed(allowed, vary->key);
    if (vary->key->kind == BRV_LIST)
        return refuse(vary, 1, faults, "%s takes a list of values; a sweep varies one number, such as light.spot",
                      vary->path);
    return refuse(vary, 1, faults, "%s takes %s; a sweep varies a number, such as light.spot", vary->path, allowed);
}

/* ---- the form ---- */

/* Copies a value without the blanks around it; false when it does not fit. */
static bool copy_value(char out[BRV_VARY_VALUE_SIZE], const char *begin, const char *end)
{
    while (begin < end && *begin == ' ') begin++;
    while (end > begin && end[-1] == ' ') end--;
    if (end - begin >= BRV_VARY_VALUE_SIZE) return false;
    memcpy(out, begin, (size_t)(end - begin));
    out[end - begin] = '\0';
    return true;
}

static int column_of(const char *argument, const char *begin)
{
    return (int)(begin + strspn(begin, " ") - argument) + 1;
}

/* "9" or "25:log" */
static bool read_count(struct brv_vary *vary, const char *text, struct brv_faults *faults)
{
    char shown[BRV_SHOWN_SIZE];
    const size_t digits = strspn(text, "0123456789");
    const char *rest = text + digits;
    vary->log = !strcmp(rest, ":log");
    if (digits == 0 || (*rest && *rest != ':'))
        return refuse(vary, vary->n_column, faults,
                      "N = %s: a whole number is wanted, 2 to %d, and after it nothing or :log",
                      brv_fault_shown(shown, text), (int)BRV_VARY_MOST);
    if (*rest && !vary->log)
        return refuse(vary, vary->n_column + (int)digits, faults, "%s stands after N; only :log can stand there",
                      brv_fault_shown(shown, rest));
    const unsigned long long n = digits > 12 ? 1000000000000u : strtoull(text, NULL, 10);
    if (n < 2 || n > BRV_VARY_MOST)
        return refuse(vary, vary->n_column, faults, "N = %.*s, allowed 2 to %d", (int)(digits < 40 ? digits : 40), text,
                      (int)BRV_VARY_MOST);
    vary->n = (size_t)n;
    return true;
}

/* What stands behind the digits of "10 mm". */
static const char *unit_of(const char *text)
{
    text += strspn(text, " +-.0123456789");
    const char *exponent = text + 1 + (*text && (text[1] == '-' || text[1] == '+'));
    if ((*text == 'e' || *text == 'E') && strspn(exponent, "0123456789"))
        text = exponent + strspn(exponent, "0123456789");
    return text + strspn(text, " ");
}

/* "2..10 mm" is 2 mm to 10 mm. The other way round is not: who writes 2 mm..10 has left something out. */
static void share_unit(struct brv_vary *vary)
{
    double number;
    const size_t length = strlen(vary->from_text);
    const char *unit = unit_of(vary->to_text);
    if (!vary->key || vary->key->dimension == BRV_PURE) return;
    if (brv_quantity_lack(vary->from_text, &number) != BRV_LACKS_UNIT || !*unit) return;
    if (length + 1 + strlen(unit) < BRV_VARY_VALUE_SIZE)
        snprintf(vary->from_text + length, BRV_VARY_VALUE_SIZE - length, " %s", unit);
}

/* FROM..TO:N behind the key. */
static bool read_range(struct brv_vary *vary, const char *argument, const char *range, struct brv_faults *faults)
{
    const char *dots = strstr(range, ".."), *colon = dots ? strchr(dots, ':') : NULL;
    const int begin = column_of(argument, range);
    if (!dots) return refuse(vary, begin, faults, "the .. between FROM and TO is missing; " FORM);
    const char *to = dots + 2;
    vary->from_column = begin;
    vary->to_column = column_of(argument, to);
    if (!colon) return refuse(vary, vary->to_column, faults, "the colon and the number of values are missing; " FORM);
    vary->n_column = column_of(argument, colon + 1);
    if (!copy_value(vary->from_text, range, dots) || !copy_value(vary->to_text, to, colon))
        return refuse(vary, begin, faults, "a value of more than %d letters cannot be read",
                      (int)BRV_VARY_VALUE_SIZE - 1);
    if (!*vary->from_text) return refuse(vary, vary->from_column, faults, "FROM is missing in front of the ..; " FORM);
    if (!*vary->to_text) return refuse(vary, vary->to_column, faults, "TO is missing behind the ..; " FORM);
    return read_count(vary, colon + 1 + strspn(colon + 1, " "), faults);
}

static bool is_endless(const char *text)
{
    return !strcmp(text, "endless");
}

bool brv_vary_split(struct brv_vary *vary, const char *argument, const struct brv_request *names,
                    struct brv_faults *faults)
{
    char place[BRV_VARY_PLACE_SIZE];
    const size_t length = strcspn(argument, "=");
    *vary = (struct brv_vary){.n = 0};
    snprintf(vary->path, sizeof vary->path, "%.*s", (int)(length < sizeof vary->path ? length : sizeof vary->path - 1),
             argument);
    if (!brv_bytes_are_text(brv_vary_place(place, vary->path), argument, strlen(argument), faults)) return false;
    if (length >= sizeof vary->path) return refuse(vary, 1, faults, "this is no key of a scenario; " FORM);
    if (length == 0 || !argument[length]) return refuse(vary, 1, faults, FORM);
    look_up(vary, names);
    const bool good = read_range(vary, argument, argument + length + 1, faults);
    if (vary->key && !is_number(vary->key)) return refuse_kind(vary, faults);
    if (good && vary->key && (is_endless(vary->from_text) || is_endless(vary->to_text)))
        return refuse(vary, is_endless(vary->from_text) ? vary->from_column : vary->to_column, faults,
                      "%s = endless: a sweep varies finite values", vary->path);
    if (good) share_unit(vary);
    return good;
}

/* ---- the numbers ---- */

static bool refuse_order(const struct brv_vary *vary, struct brv_faults *faults)
{
    return refuse(vary, vary->from_column, faults, "%s = %s..%s: %s; FROM must lie below TO", vary->path,
                  vary->from_text, vary->to_text,
                  vary->from > vary->to ? "the range runs backwards" : "the range is empty");
}

bool brv_vary_measure(struct brv_vary *vary, struct brv_faults *faults)
{
    char why[BRV_QUANTITY_WHY_SIZE];
    const enum brv_dimension dimension = vary->key->dimension;
    if (!brv_quantity_read(&vary->from, vary->from_text, dimension, why))
        return refuse(vary, vary->from_column, faults, "%s = %s: %s", vary->path, vary->from_text, why);
    if (!brv_quantity_read(&vary->to, vary->to_text, dimension, why))
        return refuse(vary, vary->to_column, faults, "%s = %s: %s", vary->path, vary->to_text, why);
    if (!(vary->from < vary->to)) return refuse_order(vary, faults);
    if (vary->log && dimension == BRV_TEMPERATURE)
        return refuse(vary, vary->n_column, faults, "the logarithm of a temperature means nothing; leave out :log");
    if (vary->log && !(vary->from > 0.0))
        return refuse(vary, vary->from_column, faults,
                      "%s = %s: a logarithm begins above 0; leave out :log or begin higher", vary->path,
                      vary->from_text);
    return true;
}

static const struct brv_unit *shared_unit(const struct brv_vary *vary)
{
    const struct brv_unit *from = brv_unit_find(unit_of(vary->from_text)), *to = brv_unit_find(unit_of(vary->to_text));
    return from == to ? from : NULL;
}

const struct brv_unit *brv_vary_unit(const struct brv_vary *vary)
{
    const struct brv_unit *shared = shared_unit(vary);
    const double between = vary->log ? sqrt(vary->from * vary->to) : 0.5 * (vary->from + vary->to);
    return shared ? shared : brv_unit_best(between, vary->key->dimension);
}

const char *brv_vary_text(char out[BRV_VARY_VALUE_SIZE], const struct brv_vary *vary, size_t i)
{
    const double share = (double)i / (double)(vary->n - 1);
    const double value =
        vary->log ? vary->from * pow(vary->to / vary->from, share) : vary->from * (1.0 - share) + vary->to * share;
    if (i == 0 || i == vary->n - 1) {
        snprintf(out, BRV_VARY_VALUE_SIZE, "%s", i ? vary->to_text : vary->from_text);
        return out;
    }
    const struct brv_unit *shared = shared_unit(vary);
    const struct brv_unit *unit = shared ? shared : brv_unit_best(value, vary->key->dimension);
    if (unit)
        snprintf(out, BRV_VARY_VALUE_SIZE, "%.12g %s", (value - unit->offset) / unit->times / pow(10.0, unit->power),
                 unit->name);
    else
        snprintf(out, BRV_VARY_VALUE_SIZE, "%.12g", value);
    return out;
}

double brv_vary_value(const struct brv_vary *vary, size_t i)
{
    char text[BRV_VARY_VALUE_SIZE], why[BRV_QUANTITY_WHY_SIZE];
    double value = (double)NAN;
    brv_quantity_read(&value, brv_vary_text(text, vary, i), vary->key->dimension, why);
    return value;
}

double brv_vary_own(const struct brv_vary *vary, const struct brv_scenario *ask)
{
    struct brv_scenario copy = *ask; /* brv_key_scope hands out pointers that may be written to */
    double value;
    memcpy(&value, (const char *)brv_key_scope(&copy, vary->key->scope, vary->site, vary->layer) + vary->key->offset,
           sizeof value);
    return isfinite(value) ? value : (double)NAN;
}
