#include "report/spread.h"

#include "base/constants.h"
#include "report/csv.h"
#include "report/input.h"
#include "report/number.h"
#include "report/term.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

const enum brv_headline brv_spread_ranked[BRV_SPREAD_RANKED] = {BRV_HEADLINE_THRESHOLD_SIGN, BRV_HEADLINE_SHARE,
                                                                BRV_HEADLINE_GRAIN_PEAK, BRV_HEADLINE_RATIO};

/* What a slip can move; thresholds are of the skin, and move with the width of the spot alone. */
static const enum brv_headline moved[] = {BRV_HEADLINE_LIGHT_GRAIN,     BRV_HEADLINE_GRAIN_PEAK,
                                          BRV_HEADLINE_SHARE,           BRV_HEADLINE_LAYER_PEAK,
                                          BRV_HEADLINE_THRESHOLD_GRAIN, BRV_HEADLINE_THRESHOLD_SIGN};
enum { N_MOVED = sizeof moved / sizeof *moved };

static void end_row(FILE *to)
{
    fputs("\r\n", to);
}

static void number(FILE *to, double value)
{
    char text[BRV_NUMBER_SIZE];
    fprintf(to, ",%s", brv_number_exact(text, value));
}

/* In quotes where a comma stands in it; no name here holds quotes. */
static void words(FILE *to, const char *text)
{
    const char *quote = strchr(text, ',') ? "\"" : "";
    fprintf(to, "%s%s%s", quote, text, quote);
}

/* ---- names ---- */

const char *brv_spread_scale_name(int scale)
{
    static const char *const name[BRV_N_SCALE] = {"plain", "logarithm", "rank"};
    return name[scale];
}

const char *brv_slip_name(char out[BRV_SLIP_NAME_SIZE], const struct brv_slip *slip)
{
    const double percent = fabs(100.0 * slip->size);
    switch (slip->kind) {
    case BRV_SLIP_NONE:
        snprintf(out, BRV_SLIP_NAME_SIZE, "as asked");
        break;
    case BRV_SLIP_TILT:
        snprintf(out, BRV_SLIP_NAME_SIZE, "tilted by %.0f degrees", slip->size * 180.0 / BRV_PI);
        break;
    case BRV_SLIP_STAND_OFF:
        snprintf(out, BRV_SLIP_NAME_SIZE, "stand-off %.0f mm wrong: %s", fabs(1e3 * slip->size),
                 slip->size > 0.0 ? "diverging" : "converging");
        break;
    case BRV_SLIP_SPOT:
        snprintf(out, BRV_SLIP_NAME_SIZE, "spot %.0f %% too %s", percent, slip->size > 0.0 ? "large" : "small");
        break;
    case BRV_SLIP_OUTPUT:
        snprintf(out, BRV_SLIP_NAME_SIZE, "output %.0f %% too %s", percent, slip->size > 0.0 ? "high" : "low");
        break;
    case BRV_SLIP_BOTH:
        snprintf(out, BRV_SLIP_NAME_SIZE, "output %.0f %% and spot %.0f %% together: %s", percent,
                 100.0 * slip->spot_size, slip->size > 0.0 ? "more" : "less");
        break;
    }
    return out;
}

/* ---- ranking ---- */

size_t brv_spread_strongest(size_t input[], size_t most, const struct brv_spreading *spreading,
                            const struct brv_spread_row *row)
{
    bool taken[BRV_MOST_INPUTS] = {false};
    size_t n = 0;
    for (; n < most; n++) {
        size_t best = spreading->inputs.n;
        for (size_t i = 0; i < spreading->inputs.n; i++)
            if (!taken[i] && row->total[i] > 0.0 && (best == spreading->inputs.n || row->total[i] > row->total[best]))
                best = i;
        if (best == spreading->inputs.n) break;
        taken[best] = true;
        input[n] = best;
    }
    return n;
}

/* ---- files ---- */

static void headline_row(FILE *to, const struct brv_term *term, const char *site, const struct brv_spread_row *row)
{
    const double value[] = {row->all.p5,  row->all.p50,  row->all.p95,  row->asked,
                            row->half.p5, row->half.p50, row->half.p95, row->without};
    words(to, term->name);
    fprintf(to, ",%s,%s", term->si, site);
    for (size_t i = 0; i < sizeof value / sizeof *value; i++) number(to, value[i]);
    fprintf(to, ",%s", isnan(row->q2) ? "" : brv_spread_scale_name(row->scale));
    number(to, row->q2);
    end_row(to);
}

void brv_spread_csv_headlines(FILE *to, const struct brv_spread_answer *answer)
{
    fputs("headline,unit,site,p5,p50,p95,asked,p5_half,p50_half,p95_half,without_value,indices_of,fit_q2\r\n", to);
    for (size_t which = 0; which < BRV_N_HEADLINE; which++) {
        const struct brv_term *term = &brv_terms[which];
        if (brv_spread_leaves_out((enum brv_headline)which)) continue;
        for (size_t site = 0; site < (term->shared ? 1 : BRV_N_SITE); site++)
            headline_row(to, term, term->shared ? "both" : brv_site_name[site], &answer->spreading->row[site][which]);
    }
}

/* "threshold_sign_J_m2" without its unit. */
static void column_stem(char out[BRV_TERM_SIZE], enum brv_headline which)
{
    static const char *const stem[BRV_SPREAD_RANKED] = {"threshold_sign", "share_disrupted", "grain_peak",
                                                        "threshold_ratio"};
    for (size_t i = 0; i < BRV_SPREAD_RANKED; i++)
        if (brv_spread_ranked[i] == which) snprintf(out, BRV_TERM_SIZE, "%s", stem[i]);
}

void brv_spread_csv_inputs(FILE *to, const struct brv_spread_answer *answer)
{
    const struct brv_spreading *spreading = answer->spreading;
    char name[BRV_INPUT_NAME_SIZE], stem[BRV_TERM_SIZE];
    fputs("input,unit,low,value,high,drawn,source,seen", to);
    for (size_t k = 0; k < BRV_SPREAD_RANKED; k++) {
        column_stem(stem, brv_spread_ranked[k]);
        fprintf(to, ",%s_first_order,%s_total", stem, stem);
    }
    end_row(to);
    for (size_t i = 0; i < spreading->inputs.n; i++) {
        const struct brv_input *input = &spreading->inputs.input[i];
        words(to, brv_input_name(name, input, answer->request));
        fprintf(to, ",%s", brv_input_unit(input));
        number(to, input->low);
        number(to, input->value);
        number(to, input->high);
        fprintf(to, ",%s,%s,%s", input->ratio ? "in the logarithm" : "evenly", input->source, input->seen);
        for (size_t k = 0; k < BRV_SPREAD_RANKED; k++) {
            const struct brv_spread_row *row = &spreading->row[BRV_LESION][brv_spread_ranked[k]];
            number(to, isnan(row->q2) ? row->q2 : row->first[i]);
            number(to, isnan(row->q2) ? row->q2 : row->total[i]);
        }
        end_row(to);
    }
}

void brv_spread_csv_draws(FILE *to, const struct brv_spread_answer *answer)
{
    const struct brv_spreading *spreading = answer->spreading;
    const size_t n = spreading->n_draw, n_input = spreading->inputs.n;
    fputs("draw", to);
    for (size_t i = 0; i < n_input; i++) fprintf(to, ",u%zu", i + 1);
    for (size_t site = 0; site < BRV_N_SITE; site++)
        for (size_t which = 0; which < BRV_N_HEADLINE; which++)
            if (!brv_spread_leaves_out((enum brv_headline)which))
                fprintf(to, ",%s_%s", brv_site_name[site], brv_terms[which].column);
    end_row(to);
    for (size_t k = 0; k < n; k++) {
        fprintf(to, "%zu", k + 1);
        for (size_t i = 0; i < n_input; i++) number(to, spreading->u[k * n_input + i]);
        for (size_t site = 0; site < BRV_N_SITE; site++)
            for (size_t which = 0; which < BRV_N_HEADLINE; which++)
                if (!brv_spread_leaves_out((enum brv_headline)which))
                    number(to, spreading->output[(site * BRV_N_HEADLINE + which) * n + k]);
        end_row(to);
    }
}

void brv_spread_csv_slips(FILE *to, const struct brv_spread_answer *answer)
{
    char name[BRV_SLIP_NAME_SIZE];
    fputs("slip,fluence_ratio,spot_m", to);
    for (size_t site = 0; site < BRV_N_SITE; site++)
        for (size_t k = 0; k < N_MOVED; k++) fprintf(to, ",%s_%s", brv_site_name[site], brv_terms[moved[k]].column);
    end_row(to);
    for (size_t i = 0; i < BRV_N_SLIP; i++) {
        const struct brv_slip *slip = &answer->slip[i];
        words(to, brv_slip_name(name, slip));
        number(to, slip->fluence);
        number(to, slip->spot);
        for (size_t site = 0; site < BRV_N_SITE; site++)
            for (size_t k = 0; k < N_MOVED; k++) number(to, slip->headlines.at[site][moved[k]].value);
        end_row(to);
    }
}

void brv_spread_csv_ranking(FILE *to, const struct brv_spread_answer *answer)
{
    char name[BRV_INPUT_NAME_SIZE];
    size_t strongest[BRV_SPREAD_BARS];
    fputs("headline,rank,input,first_order,total\r\n", to);
    for (size_t k = 0; k < BRV_SPREAD_RANKED; k++) {
        const struct brv_spread_row *row = &answer->spreading->row[BRV_LESION][brv_spread_ranked[k]];
        const size_t n = brv_spread_strongest(strongest, BRV_SPREAD_BARS, answer->spreading, row);
        for (size_t i = 0; i < n; i++) {
            const struct brv_input *input = &answer->spreading->inputs.input[strongest[i]];
            fprintf(to, "%s,%zu,", brv_terms[brv_spread_ranked[k]].name, i + 1);
            words(to, brv_input_name(name, input, answer->request));
            number(to, row->first[strongest[i]]);
            number(to, row->total[strongest[i]]);
            end_row(to);
        }
    }
}
