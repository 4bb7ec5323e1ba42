#include "lesson/phrase.h"

#include "report/number.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char *brv_phrase_order(double value, double other, const char *less, const char *alike, const char *more)
{
    if (value < (1.0 - BRV_PHRASE_ALIKE) * other) return less;
    if (value > (1.0 + BRV_PHRASE_ALIKE) * other) return more;
    return isnan(value) || isnan(other) ? "" : alike;
}

const char *brv_phrase_times(char out[BRV_NUMBER_SIZE], double value, double other)
{
    const double ratio = value / other;
    if (fabs(ratio - 1.0) <= 0.01)
        snprintf(out, BRV_NUMBER_SIZE, "the same");
    else if (ratio >= 99.5)
        snprintf(out, BRV_NUMBER_SIZE, "%.0f times", ratio);
    else
        snprintf(out, BRV_NUMBER_SIZE, "%.2g times", ratio);
    return out;
}

/* "8.9", "310", "under 0.001" */
static const char *ratio_text(char out[BRV_NUMBER_SIZE], double ratio)
{
    if (ratio < 1e-3)
        snprintf(out, BRV_NUMBER_SIZE, "under 0.001");
    else
        snprintf(out, BRV_NUMBER_SIZE, ratio >= 99.5 ? "%.0f" : "%.2g", ratio);
    return out;
}

const char *brv_phrase_ratio_of(char out[BRV_TERM_SIZE], const struct brv_spread *value, const struct brv_spread *other)
{
    const double ratio = value->value / other->value, low = value->low / other->low, high = value->high / other->high;
    char middle[BRV_NUMBER_SIZE], from[BRV_NUMBER_SIZE], to[BRV_NUMBER_SIZE];
    ratio_text(middle, ratio);
    ratio_text(from, fmin(ratio, fmin(low, high)));
    ratio_text(to, fmax(ratio, fmax(low, high)));
    if (strcmp(from, to))
        snprintf(out, BRV_TERM_SIZE, "%.12s times (%.12s to %.12s)", middle, from, to);
    else
        snprintf(out, BRV_TERM_SIZE, "%.12s times", middle);
    return out;
}

const char *brv_phrase_ratio(char out[BRV_TERM_SIZE], const struct brv_compared *compared, size_t choice, size_t other,
                             enum brv_site_index site, enum brv_headline which)
{
    const struct brv_headlines *headline = compared->comparison->headline;
    return brv_phrase_ratio_of(out, &headline[choice].at[site][which], &headline[other].at[site][which]);
}

double brv_phrase_value(const struct brv_compared *compared, size_t choice, enum brv_site_index site,
                        enum brv_headline which)
{
    return compared->comparison->headline[choice].at[site][which].value;
}

const char *brv_phrase_headline(char out[BRV_TERM_SIZE], const struct brv_compared *compared, size_t choice,
                                enum brv_site_index site, enum brv_headline which)
{
    const struct brv_spread *spread = &compared->comparison->headline[choice].at[site][which];
    char value[BRV_TERM_SIZE], low[BRV_TERM_SIZE], high[BRV_TERM_SIZE];
    const char *unit = brv_terms[which].unit, *before = *unit ? " " : "";
    brv_term_value(value, which, spread->value);
    brv_term_value(low, which, spread->low);
    brv_term_value(high, which, spread->high);
    if (strcmp(value, low) || strcmp(value, high))
        snprintf(out, BRV_TERM_SIZE, "%.20s%s%s (%.16s to %.16s)", value, before, unit, low, high);
    else
        snprintf(out, BRV_TERM_SIZE, "%.20s%s%s", value, before, unit);
    return out;
}

const char *brv_phrase_all(char out[BRV_SHEET_LINE_SIZE], const struct brv_compared *compared, enum brv_site_index site,
                           enum brv_headline which)
{
    char one[BRV_TERM_SIZE];
    size_t used = 0;
    *out = '\0';
    for (size_t i = 0; i < compared->comparison->n && used < BRV_SHEET_LINE_SIZE; i++)
        used += (size_t)snprintf(out + used, BRV_SHEET_LINE_SIZE - used, "%s%s: %s", i ? "; " : "",
                                 compared->choices->choice[i].name, brv_phrase_headline(one, compared, i, site, which));
    return out;
}

const char *brv_phrase_percent(char out[BRV_NUMBER_SIZE], double share)
{
    char number[BRV_NUMBER_SIZE];
    if (share > 1e-9 && share < 1e-4)
        snprintf(out, BRV_NUMBER_SIZE, "under 0.01 %%");
    else
        snprintf(out, BRV_NUMBER_SIZE, "%.40s %%", brv_number_short(number, share < 1e-4 ? 0.0 : 100.0 * share));
    return out;
}

const char *brv_phrase_spread(char out[BRV_TERM_SIZE], const struct brv_spread *spread, double scale, double shift,
                              const char *unit)
{
    char value[BRV_NUMBER_SIZE], low[BRV_NUMBER_SIZE], high[BRV_NUMBER_SIZE];
    brv_number_short(value, spread->value * scale + shift);
    brv_number_short(low, spread->low * scale + shift);
    brv_number_short(high, spread->high * scale + shift);
    if (strcmp(low, high))
        snprintf(out, BRV_TERM_SIZE, "%.12s %.8s (%.12s to %.12s)", value, unit, low, high);
    else
        snprintf(out, BRV_TERM_SIZE, "%.16s %.8s", value, unit);
    return out;
}

const char *brv_phrase_degrees(char out[BRV_TERM_SIZE], const struct brv_spread *temperature, double ceiling)
{
    char text[BRV_NUMBER_SIZE];
    brv_number_degrees(text, temperature, ceiling);
    const size_t value = strcspn(text, " ");
    snprintf(out, BRV_TERM_SIZE, "%.*s C%s", (int)value, text, text + value);
    return out;
}
