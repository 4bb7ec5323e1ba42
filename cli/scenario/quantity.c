#include "scenario/quantity.h"

#include "scenario/fault.h"
#include "scenario/nearest.h"
#include "scenario/unit.h"

#include <errno.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_DIGITS = 60, LARGEST_EXPONENT = 100000 };

/* A value split up: `n_digits` bytes of sign, digits and point, the written exponent, and what follows. */
struct written {
    const char *digits;
    size_t n_digits;
    long exponent;
    const char *rest;
};

static bool refuse(char why[BRV_QUANTITY_WHY_SIZE], const char *format, ...) __attribute__((format(printf, 2, 3)));
static bool refuse(char why[BRV_QUANTITY_WHY_SIZE], const char *format, ...)
{
    va_list words;
    va_start(words, format);
    vsnprintf(why, BRV_QUANTITY_WHY_SIZE, format, words);
    va_end(words);
    return false;
}

static bool is_digit(char letter)
{
    return letter >= '0' && letter <= '9';
}

static const char *past_blanks(const char *text)
{
    return text + strspn(text, " \t");
}

static const char *past_digits(const char *text)
{
    while (is_digit(*text)) text++;
    return text;
}

/* An 'e' begins an exponent only when digits follow: "5 eV" has none. */
static const char *exponent_read(const char *text, long *exponent)
{
    *exponent = 0;
    if (*text != 'e' && *text != 'E') return text;
    const char *digits = text + 1 + (text[1] == '-' || text[1] == '+');
    if (!is_digit(*digits)) return text;

    char *end;
    *exponent = strtol(text + 1, &end, 10); /* saturates when it is too long */
    if (*exponent > LARGEST_EXPONENT) *exponent = LARGEST_EXPONENT;
    if (*exponent < -LARGEST_EXPONENT) *exponent = -LARGEST_EXPONENT;
    return end;
}

/* False when `text` does not begin with a number. */
static bool split(struct written *written, const char *text)
{
    const char *start = past_blanks(text);
    const char *first = start + (*start == '-' || *start == '+');
    const char *point = past_digits(first);
    const char *end = *point == '.' ? past_digits(point + 1) : point;
    const size_t n_digit = (size_t)(end - first) - (*point == '.');
    if (n_digit == 0) return false;

    written->digits = start;
    written->n_digits = (size_t)(end - start);
    written->rest = past_blanks(exponent_read(end, &written->exponent));
    return true;
}

/* ---- the number ---- */

/* The written digits with the unit's power of ten added to their exponent, rounded once. */
static bool number_read(double *value, const struct written *written, int power, char why[BRV_QUANTITY_WHY_SIZE])
{
    char text[MOST_DIGITS + 16];
    if (written->n_digits > MOST_DIGITS)
        return refuse(why, "a number of more than %d digits cannot be read", (int)MOST_DIGITS);
    snprintf(text, sizeof text, "%.*se%ld", (int)written->n_digits, written->digits, written->exponent + power);

    errno = 0;
    const double number = strtod(text, NULL);
    if (!isfinite(number)) return refuse(why, "the number is too large to be held");
    if (errno == ERANGE) return refuse(why, "the number is too small to be held");
    *value = number;
    return true;
}

/* The unit that is all of what follows the number, but for blanks; NULL: there is none. */
static const struct brv_unit *unit_behind(const struct written *written)
{
    char text[24] = "";
    size_t length = strlen(written->rest);
    while (length > 0 && (written->rest[length - 1] == ' ' || written->rest[length - 1] == '\t')) length--;
    if (length < sizeof text) memcpy(text, written->rest, length);
    return brv_unit_find(text);
}

static bool number_with_unit(double *value, const struct written *written, const struct brv_unit *unit,
                             char why[BRV_QUANTITY_WHY_SIZE])
{
    double number;
    if (!number_read(&number, written, unit->power, why)) return false;
    number = number * unit->times + unit->offset;
    if (!isfinite(number)) return refuse(why, "the number is too large to be held");
    *value = number;
    return true;
}

/* ---- what went wrong ---- */

/* Is the first word of `text` one of these, in small letters or large? */
static bool begins_with(const char *text, const char *const *word)
{
    char first[16] = "";
    const size_t length = strcspn(text, " \t");
    if (length < sizeof first) memcpy(first, text, length);
    for (; *word; word++)
        if (brv_nearest_distance(first, *word) == 0) return true;
    return false;
}

/* Also the curled ones that a word processor makes, U+2018 to U+201F. */
static bool is_quotation_mark(const char *text)
{
    const bool curled =
        !strncmp(text, "\xE2\x80", 2) && (unsigned char)text[2] >= 0x98u && (unsigned char)text[2] < 0xA0u;
    return curled || *text == '"' || *text == '\'';
}

static bool refuse_start(char why[BRV_QUANTITY_WHY_SIZE], const char *text, enum brv_dimension dimension)
{
    static const char *const not_finite[] = {"nan", ".nan", "inf", "-inf", ".inf", "-.inf", "infinity", NULL};
    text = past_blanks(text);
    if (!*text) return refuse(why, "no value stands here");
    if (begins_with(text, not_finite)) return refuse(why, "only a finite number can stand here");
    if (!strncmp(text, "\xE2\x88\x92", 3)) return refuse(why, "the minus sign is -, the one on the keyboard");
    if (is_quotation_mark(text)) return refuse(why, "quotation marks are no part of a number");
    if (*text == ',') return refuse(why, "the decimal sign is a point, as in 0.5");
    if (strchr("<>~=", *text)) return refuse(why, "one exact value is wanted, without %c", *text);
    if (dimension == BRV_PURE) return refuse(why, "a number is wanted");
    return refuse(why, "a number and its unit are wanted");
}

static bool refuse_no_unit(char why[BRV_QUANTITY_WHY_SIZE], enum brv_dimension dimension)
{
    char list[BRV_UNIT_LIST_SIZE];
    return refuse(why, "the unit is missing (%s)", brv_unit_list(list, dimension));
}

static bool refuse_share(char why[BRV_QUANTITY_WHY_SIZE], const struct written *written, int power)
{
    double number;
    if (!number_read(&number, written, power, why)) return false;
    return refuse(why, "this is a plain number, without %%; did you mean %.6g?", number);
}

static bool refuse_dimension(char why[BRV_QUANTITY_WHY_SIZE], const struct written *written,
                             const struct brv_unit *unit, enum brv_dimension dimension)
{
    char list[BRV_UNIT_LIST_SIZE];
    if (dimension == BRV_TIME && unit->dimension == BRV_WAITING)
        return refuse(why, "%s is for waiting; here it can be %s", unit->name, brv_unit_list(list, dimension));
    if (dimension == BRV_PURE && unit->dimension == BRV_SHARE) return refuse_share(why, written, unit->power);
    if (dimension == BRV_PURE) return refuse(why, "this is a plain number, without %s or any unit", unit->name);
    return refuse(why, "%s is %s; %s is wanted, such as %s", unit->name, brv_unit_dimension_name(unit->dimension),
                  brv_unit_dimension_name(dimension), brv_unit_example(dimension));
}

/* "5 mm wide": a good unit, and then more. */
static bool unit_and_more(const char *rest)
{
    char first[24];
    const size_t length = strcspn(rest, " \t");
    if (!rest[length] || length >= sizeof first) return false;
    memcpy(first, rest, length);
    first[length] = '\0';
    return brv_unit_find(first) != NULL;
}

static bool refuse_rest(char why[BRV_QUANTITY_WHY_SIZE], const char *text, const char *rest,
                        enum brv_dimension dimension)
{
    char shown[BRV_SHOWN_SIZE], list[BRV_UNIT_LIST_SIZE];
    const char *start = past_blanks(text);
    start += *start == '-' || *start == '+';
    if (*rest == ',') return refuse(why, "the decimal sign is a point, as in 0.5; thousands have no mark");
    if (start[0] == '0' && (start[1] == 'x' || start[1] == 'X')) return refuse(why, "the number must be decimal");
    if (*rest == '-' || strstr(start, "..") || !strncmp(rest, "\xE2\x80\x93", 3) || !strncmp(rest, "to ", 3))
        return refuse(why, "one value is wanted, not a range");
    if (!strncmp(rest, "+-", 2) || !strncmp(rest, "+/-", 3) || !strncmp(rest, "\xC2\xB1", 2))
        return refuse(why, "one value is wanted, without its spread");
    if (!strncmp(rest, "x ", 2) || *rest == '*' || !strncmp(rest, "\xC3\x97", 2))
        return refuse(why, "one number is wanted, not a product; a power of ten is written as in 6e-1");
    if (*rest == '.' || is_digit(*rest) || *rest == '\'' || *rest == '_')
        return refuse(why, "one number is wanted, without marks or blanks between its digits");
    if (dimension == BRV_PURE) return refuse(why, "this is a plain number, and nothing may follow it");
    if (unit_and_more(rest)) return refuse(why, "nothing may follow the unit");

    const struct brv_unit *meant = brv_unit_meant(rest, dimension);
    brv_fault_shown(shown, rest);
    if (brv_unit_is_foreign(rest))
        return refuse(why, "%s is not taken here; it can be %s", shown, brv_unit_list(list, dimension));
    if (meant) return refuse(why, "no unit is called %s; did you mean %s?", shown, meant->name);
    return refuse(why, "no unit is called %s; here it can be %s", shown, brv_unit_list(list, dimension));
}

/* ---- all of it ---- */

bool brv_quantity_read(double *value, const char *text, enum brv_dimension dimension, char why[BRV_QUANTITY_WHY_SIZE])
{
    struct written written;
    if (!split(&written, text)) return refuse_start(why, text, dimension);

    double number;
    if (!*written.rest) {
        if (!number_read(&number, &written, 0, why)) return false; /* a unit would not help */
        if (dimension != BRV_PURE) return refuse_no_unit(why, dimension);
        *value = number;
        return true;
    }

    const struct brv_unit *unit = unit_behind(&written);
    if (!unit) return refuse_rest(why, text, written.rest, dimension);
    if (unit->dimension != dimension) return refuse_dimension(why, &written, unit, dimension);

    if (!number_with_unit(&number, &written, unit, why)) return false;
    *value = number;
    return true;
}

enum brv_quantity_lack brv_quantity_lack(const char *text, double *number)
{
    char why[BRV_QUANTITY_WHY_SIZE];
    struct written written;
    if (!split(&written, text)) return BRV_LACKS_NUMBER;
    if (!*written.rest) return number_read(number, &written, 0, why) ? BRV_LACKS_UNIT : BRV_LACKS_ROOM;
    const struct brv_unit *unit = unit_behind(&written);
    double held;
    return unit && !number_with_unit(&held, &written, unit, why) ? BRV_LACKS_ROOM : BRV_LACKS_NOTHING;
}
