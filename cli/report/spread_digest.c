/* summary.json of `brevis spread`. */
#include "report/spread.h"

#include "report/digest.h"
#include "report/csv.h"
#include "report/input.h"
#include "report/json.h"
#include "report/term.h"

#include <math.h>

static void write_row(struct brv_json *json, size_t which, const char *site, const struct brv_spread_row *row)
{
    const struct brv_term *term = &brv_terms[which];
    brv_json_open(json, NULL, '{');
    brv_json_text(json, "headline", term->name);
    brv_json_text(json, "site", site);
    brv_json_number(json, "p5", row->all.p5, term->si);
    brv_json_number(json, "p50", row->all.p50, term->si);
    brv_json_number(json, "p95", row->all.p95, term->si);
    brv_json_number(json, "asked", row->asked, term->si);
    brv_json_number(json, "p5_half", row->half.p5, term->si);
    brv_json_number(json, "p50_half", row->half.p50, term->si);
    brv_json_number(json, "p95_half", row->half.p95, term->si);
    brv_json_number(json, "without_value", row->without, "1");
    if (!isnan(row->q2)) {
        brv_json_text(json, "indices_of", brv_spread_scale_name(row->scale));
        brv_json_number(json, "fit_q2", row->q2, "1");
        brv_json_flag(json, "ranking_rough", row->q2 < BRV_SPREAD_ROUGH);
    }
    brv_json_close(json, '}');
}

static void write_headlines(struct brv_json *json, const struct brv_spreading *spreading)
{
    brv_json_open(json, "headlines", '[');
    for (size_t which = 0; which < BRV_N_HEADLINE; which++) {
        if (brv_spread_leaves_out((enum brv_headline)which)) continue;
        const size_t n_site = brv_terms[which].shared ? 1 : BRV_N_SITE;
        for (size_t site = 0; site < n_site; site++)
            write_row(json, which, n_site == 1 ? "both" : brv_site_name[site], &spreading->row[site][which]);
    }
    brv_json_close(json, ']');
}

static void write_indices(struct brv_json *json, const struct brv_spreading *spreading, size_t input)
{
    brv_json_open(json, "indices", '[');
    for (size_t k = 0; k < BRV_SPREAD_RANKED; k++) {
        const struct brv_spread_row *row = &spreading->row[BRV_LESION][brv_spread_ranked[k]];
        if (isnan(row->q2)) continue;
        brv_json_open(json, NULL, '{');
        brv_json_text(json, "headline", brv_terms[brv_spread_ranked[k]].name);
        brv_json_number(json, "first_order", row->first[input], "1");
        brv_json_number(json, "total", row->total[input], "1");
        brv_json_close(json, '}');
    }
    brv_json_close(json, ']');
}

static void write_inputs(struct brv_json *json, const struct brv_spread_answer *answer)
{
    char name[BRV_INPUT_NAME_SIZE];
    brv_json_open(json, "inputs", '[');
    for (size_t i = 0; i < answer->spreading->inputs.n; i++) {
        const struct brv_input *input = &answer->spreading->inputs.input[i];
        const struct brv_spread range = {input->value, input->low, input->high};
        brv_json_open(json, NULL, '{');
        brv_json_text(json, "input", brv_input_name(name, input, answer->request));
        brv_json_spread(json, "range", &range, 1.0, 0.0, brv_input_unit(input), input->source);
        brv_json_text(json, "seen", input->seen);
        brv_json_flag(json, "opened", input->opened);
        brv_json_flag(json, "drawn_in_the_logarithm", input->ratio);
        write_indices(json, answer->spreading, i);
        brv_json_close(json, '}');
    }
    brv_json_close(json, ']');
}

static void write_slips(struct brv_json *json, const struct brv_slip slip[])
{
    char name[BRV_SLIP_NAME_SIZE];
    brv_json_open(json, "slips", '[');
    for (size_t i = 0; i < BRV_N_SLIP; i++) {
        brv_json_open(json, NULL, '{');
        brv_json_text(json, "slip", brv_slip_name(name, &slip[i]));
        brv_json_number(json, "fluence_ratio", slip[i].fluence, "1");
        brv_json_number(json, "spot", slip[i].spot, "m");
        brv_json_close(json, '}');
    }
    brv_json_close(json, ']');
}

/* To the scenario's own end, where that comes first. */
static double followed(const struct brv_spread_answer *answer)
{
    const struct brv_scenario *ask = &answer->request->scenario;
    return fmin(answer->spreading->after, ask->watch.until - brv_pulse_last(&ask->pulse));
}

void brv_spread_digest(FILE *to, const struct brv_spread_answer *answer)
{
    struct brv_json json = {.to = to};
    brv_json_open(&json, NULL, '{');
    brv_digest_program(&json, answer->request);
    brv_json_number(&json, "draws", (double)answer->spreading->n_draw, "1");
    brv_json_number(&json, "followed_after_the_last_pulse", followed(answer), "s");
    write_headlines(&json, answer->spreading);
    write_inputs(&json, answer);
    write_slips(&json, answer->slip);
    brv_digest_cautions(&json);
    brv_json_close(&json, '}');
}
