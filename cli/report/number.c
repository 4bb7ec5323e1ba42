#include "report/number.h"

#include "base/constants.h"
#include "scenario/unit.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *brv_number_exact(char out[BRV_NUMBER_SIZE], double value)
{
    out[0] = '\0';
    if (isnan(value)) return out;
    for (int digits = 15; digits <= 17; digits++) {
        snprintf(out, BRV_NUMBER_SIZE, "%.*g", digits, value);
        if (strtod(out, NULL) == value) break;
    }
    return out;
}

const char *brv_number_short(char out[BRV_NUMBER_SIZE], double value)
{
    const double size = fabs(value);
    if (isnan(value))
        snprintf(out, BRV_NUMBER_SIZE, "-");
    else if (size >= 999.5 && size < 1e6)
        snprintf(out, BRV_NUMBER_SIZE, "%.0f", value);
    else
        snprintf(out, BRV_NUMBER_SIZE, "%.3g", value);
    return out;
}

const char *brv_number_two(char out[BRV_NUMBER_SIZE], double value)
{
    const double size = fabs(value);
    snprintf(out, BRV_NUMBER_SIZE, size >= 99.5 && size < 1e6 ? "%.0f" : "%.2g", value);
    return out;
}

/* A number that has two digits but for its last bits stays what it is. */
#define LAST_BITS 1e-9

const char *brv_number_outward(char out[BRV_NUMBER_SIZE], double value, bool up)
{
    const double size = fabs(value);
    if (!isfinite(value) || !(size > 0.0) || size >= 99.5) return brv_number_short(out, value);
    const double last_digit = pow(10.0, floor(log10(size)) - 1.0), steps = value / last_digit,
                 slack = LAST_BITS * size / last_digit;
    snprintf(out, BRV_NUMBER_SIZE, "%.2g", last_digit * (up ? ceil(steps - slack) : floor(steps + slack)));
    return strchr(out, 'e') ? brv_number_short(out, strtod(out, NULL)) : out;
}

const char *brv_number_unit(char out[BRV_NUMBER_SIZE], double value, enum brv_dimension dimension)
{
    const bool no_time = dimension == BRV_TIME && !(fabs(value) > 0.0); /* 0 s rather than 0 ps */
    const struct brv_unit *unit = isfinite(value) ? brv_unit_best(no_time ? 1.0 : value, dimension) : NULL;
    char number[BRV_NUMBER_SIZE];
    if (!unit) return brv_number_short(out, value);

    const double in_unit = (value - unit->offset) / (unit->times * pow(10.0, unit->power));
    snprintf(out, BRV_NUMBER_SIZE, "%.40s %s", brv_number_short(number, in_unit), unit->name);
    return out;
}

const char *brv_number_spread(char out[BRV_NUMBER_SIZE], const struct brv_spread *spread, double scale, double shift)
{
    char value[BRV_NUMBER_SIZE], low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE];
    brv_number_short(value, spread->value * scale + shift);
    brv_number_short(low, spread->low * scale + shift);
    brv_number_short(high, spread->high * scale + shift);
    if (!strcmp(value, low) && !strcmp(value, high))
        snprintf(out, BRV_NUMBER_SIZE, "%.16s", value);
    else
        snprintf(out, BRV_NUMBER_SIZE, "%.16s (%.16s to %.16s)", value, low, high);
    return out;
}

const char *brv_number_degrees(char out[BRV_NUMBER_SIZE], const struct brv_spread *temperature, double ceiling)
{
    char part[3][BRV_NUMBER_SIZE]; /* each short */
    const double degrees[] = {temperature->value, temperature->low, temperature->high};
    if (!(temperature->high > ceiling) && !(temperature->value > ceiling))
        return brv_number_spread(out, temperature, 1.0, -BRV_ZERO_C);
    for (size_t i = 0; i < 3; i++) {
        char number[BRV_NUMBER_SIZE];
        const bool over = degrees[i] > ceiling;
        snprintf(part[i], sizeof part[i], "%s%.12s", over ? ">" : "",
                 brv_number_short(number, (over ? ceiling : degrees[i]) - BRV_ZERO_C));
    }
    if (degrees[1] > ceiling)
        snprintf(out, BRV_NUMBER_SIZE, "%.16s", part[0]);
    else
        snprintf(out, BRV_NUMBER_SIZE, "%.16s (%.16s to %.16s)", part[0], part[1], part[2]);
    return out;
}

const char *brv_number_print(char text[BRV_NUMBER_SIZE])
{
    char plain[BRV_NUMBER_SIZE];
    size_t n = 0;
    snprintf(plain, sizeof plain, "%s", text);
    for (const char *from = plain; *from && n + 3 < BRV_NUMBER_SIZE; from++) {
        const bool unit_starts = from > plain && from[-1] == ' ';
        const bool power = from > plain && from[-1] == 'm' && *from == '2';
        if (unit_starts && *from == 'u')
            n += (size_t)snprintf(text + n, BRV_NUMBER_SIZE - n, "µ");
        else if (power)
            n += (size_t)snprintf(text + n, BRV_NUMBER_SIZE - n, "²");
        else
            text[n++] = *from;
    }
    text[n] = '\0';
    return text;
}

const char *brv_number_printed(char out[BRV_NUMBER_SIZE], double value, enum brv_dimension dimension)
{
    brv_number_unit(out, value, dimension);
    return brv_number_print(out);
}
