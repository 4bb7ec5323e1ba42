#include "report/telling.h"

#include "report/number.h"
#include "report/term.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#define FEW 1e-4 /* a share below it is told as "under 0.01 %" [1] */

void brv_telling_begin(struct brv_telling *telling, const char *format, ...)
{
    struct brv_story *story = telling->story;
    if (story->n < BRV_STORY_STEPS) story->n++;
    struct brv_story_step *step = &story->step[story->n - 1];
    va_list list;
    va_start(list, format);
    vsnprintf(step->when, sizeof step->when, format, list);
    va_end(list);
    step->text[0] = '\0';
}

void brv_telling_say(struct brv_telling *telling, const char *format, ...)
{
    char *text = telling->story->step[telling->story->n - 1].text;
    size_t used = strlen(text);
    if (used && used + 1 < BRV_STORY_TEXT) {
        text[used++] = ' ';
        text[used] = '\0';
    }
    va_list list;
    va_start(list, format);
    vsnprintf(text + used, BRV_STORY_TEXT - used, format, list);
    va_end(list);
}

/* "A in the lesion, B in the neighbour"; "A in lesion and neighbour alike". */
const char *brv_telling_both(char out[BRV_TELLING_SIZE], char text[BRV_N_SITE][BRV_MOMENT_SIZE])
{
    if (!strcmp(text[BRV_LESION], text[BRV_NEIGHBOUR]))
        snprintf(out, BRV_TELLING_SIZE, "%s in lesion and neighbour alike", text[BRV_LESION]);
    else
        snprintf(out, BRV_TELLING_SIZE, "%s in the lesion, %s in the neighbour", text[BRV_LESION], text[BRV_NEIGHBOUR]);
    return out;
}

const char *brv_telling_both_rise(char out[BRV_TELLING_SIZE], const struct brv_telling *telling, size_t probe,
                                  double since)
{
    char text[BRV_N_SITE][BRV_MOMENT_SIZE];
    struct brv_moment moment;
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        brv_moment_read(&moment, &telling->site[i], probe, since);
        brv_moment_rise(text[i], &moment.rise);
    }
    return brv_telling_both(out, text);
}

const char *brv_telling_both_temperature(char out[BRV_TELLING_SIZE], const struct brv_telling *telling, size_t probe,
                                         double since)
{
    char text[BRV_N_SITE][BRV_MOMENT_SIZE];
    struct brv_moment moment;
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        brv_moment_read(&moment, &telling->site[i], probe, since);
        brv_moment_temperature(text[i], &moment.temperature, telling->site[i].effect.ceiling);
    }
    return brv_telling_both(out, text);
}

const char *brv_telling_both_excess(char out[BRV_TELLING_SIZE], const struct brv_telling *telling, double since)
{
    char text[BRV_N_SITE][BRV_MOMENT_SIZE];
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        const struct brv_spread excess = brv_moment_excess(&telling->site[i], since);
        brv_moment_rise(text[i], &excess);
    }
    return brv_telling_both(out, text);
}

const char *brv_telling_both_time(char out[BRV_TELLING_SIZE], double lesion, double neighbour)
{
    char text[BRV_N_SITE][BRV_MOMENT_SIZE], number[BRV_NUMBER_SIZE];
    snprintf(text[BRV_LESION], BRV_MOMENT_SIZE, "%s", brv_number_printed(number, lesion, BRV_TIME));
    snprintf(text[BRV_NEIGHBOUR], BRV_MOMENT_SIZE, "%s", brv_number_printed(number, neighbour, BRV_TIME));
    return brv_telling_both(out, text);
}

static void share_text(char out[BRV_MOMENT_SIZE], double share)
{
    char number[BRV_NUMBER_SIZE];
    if (fabs(share) < FEW)
        snprintf(out, BRV_MOMENT_SIZE, "under %g %%", 100.0 * FEW);
    else
        snprintf(out, BRV_MOMENT_SIZE, "%s %%", brv_number_short(number, 100.0 * share));
}

const char *brv_telling_both_share(char out[BRV_TELLING_SIZE], double lesion, double neighbour)
{
    char text[BRV_N_SITE][BRV_MOMENT_SIZE];
    share_text(text[BRV_LESION], lesion);
    share_text(text[BRV_NEIGHBOUR], neighbour);
    return brv_telling_both(out, text);
}

const char *brv_telling_both_term(char out[BRV_TELLING_SIZE], const struct brv_headlines *headlines,
                                  enum brv_headline which)
{
    char text[BRV_N_SITE][BRV_MOMENT_SIZE], value[BRV_TERM_SIZE], unit[BRV_NUMBER_SIZE];
    snprintf(unit, sizeof unit, " %s", brv_terms[which].unit);
    brv_number_print(unit);
    for (size_t i = 0; i < BRV_N_SITE; i++) {
        brv_term_spread(value, which, &headlines->at[i][which]);
        snprintf(text[i], BRV_MOMENT_SIZE, "%s%s", value,
                 strcmp(value, "none") && strcmp(value, BRV_TERM_NO_PIGMENT) ? unit : "");
    }
    return brv_telling_both(out, text);
}
