/* A scenario's text through everything: read, checked, the lesion solved, its numbers written as a run writes them.
 * One run of the program takes a second under the sanitizers, so this is a small one: an endless beam, one pulse, few
 * layers, one site without its spreads. How many inputs really got there is counted.                                */
#include "fuzz/fuzz.h"

#include "report/csv.h"
#include "report/digest.h"
#include "report/summary.h"
#include "run/run.h"
#include "study/headline.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define NAME "FILE"

enum { MOST_LAYERS = 3 };

/* ---- what is cheap ---- */

static bool is_cheap(const struct brv_scenario *ask)
{
    return ask->pulse.count < 1.5 && ask->skin[BRV_LESION].n_layer <= MOST_LAYERS && !ask->surface.given;
}

/* ---- numbers ---- */

static void check_numbers(const char *what, const double number[], size_t n)
{
    for (size_t i = 0; number && i < n; i++)
        fuzz_require(isfinite(number[i]), "%s %zu of %zu: %g", what, i, n, number[i]);
}

static void check_audit(const struct brv_audit *audit)
{
    const double share[] = {audit->layers, audit->pulses, audit->beside, audit->grain, audit->join};
    for (size_t i = 0; i < sizeof share / sizeof *share; i++)
        fuzz_require(fabs(share[i]) <= BRV_AUDIT_TOLERANCE, "account %zu closes: %g", i, share[i]);
    fuzz_require(audit->held >= -1e-9 && audit->held <= 1.0 + 1e-9, "share held %g", audit->held);
}

static void check_light(const struct brv_light *light)
{
    /* The budget of `layered` closes to rounding, some 1e-12 for few layers: light/layered.h. */
    fuzz_require(fabs(light->layered.residual) < 1e-9, "the budget of light closes: %g", light->layered.residual);
    check_numbers("absorbed share", light->layered.absorbed, light->n_layer);
    check_numbers("mean fluence", light->mean_fluence, light->n_layer);
    for (size_t i = 0; i < light->n_layer; i++)
        fuzz_require(light->layered.absorbed[i] >= -1e-9 && light->mean_fluence[i] >= 0.0, "light in layer %zu", i);
}

static void check_history(const struct brv_history *history)
{
    check_numbers("time", history->time, history->n_time);
    check_numbers("rise", history->rise, history->n_probe * history->n_time);
    check_numbers("pigment's rise", history->pigment, history->n_probe * history->n_time);
    for (size_t i = 1; i < history->n_time; i++)
        fuzz_require(history->time[i] > history->time[i - 1], "time goes on at row %zu", i);
}

/* ---- text ---- */

static void check_table(void write(FILE *to, const struct brv_result *result), const struct brv_result *result)
{
    struct fuzz_page page;
    fuzz_page_begin(&page);
    write(page.to, result);
    fuzz_page_end(&page);
    fuzz_table_check(page.text, page.size);
    free(page.text);
}

/* A number that is none, among the words of a line. */
static bool says_nothing(const char *line)
{
    static const char *const word[] = {"nan", "-nan", "inf", "-inf"};
    for (const char *at = line; *at; at += strcspn(at, " (,")) {
        at += strspn(at, " (,");
        const size_t length = strcspn(at, " ),;%");
        for (size_t i = 0; i < sizeof word / sizeof *word; i++)
            if (strlen(word[i]) == length && !strncmp(at, word[i], length)) return true;
    }
    return false;
}

static void check_texts(const struct brv_request *request, const struct brv_result *result)
{
    struct fuzz_page page;
    fuzz_page_begin(&page);
    brv_digest_write(page.to, request, result);
    fuzz_page_end(&page);
    const char *fault = fuzz_json_fault(page.text, page.size);
    fuzz_require(!fault, "summary.json is JSON, not at %.40s", fault);
    free(page.text);

    fuzz_page_begin(&page);
    brv_summary_write(page.to, request, result);
    fuzz_page_end(&page);
    for (char *at = page.text, *end; *at; at = end + 1) {
        end = strchr(at, '\n');
        fuzz_require(end, "the last line ends: %s", at);
        *end = '\0';
        fuzz_require(fuzz_is_plain(at) && !says_nothing(at), "a line for people: %s", at);
    }
    free(page.text);
}

/* ---- one run ---- */

/* Both sites are the lesion, which is all that was solved: the tables want two. */
static void check_result(const struct brv_request *request, const struct brv_site *site)
{
    static struct brv_result result;
    result = (struct brv_result){.ask = request->scenario, .site = {*site, *site}, .tan = {.factor = 1.0}};
    struct brv_headlines headlines;
    brv_headlines_read(&headlines, &result);
    for (size_t i = 0; i < BRV_N_HEADLINE; i++)
        fuzz_require(!(headlines.at[BRV_LESION][i].value > 1e300), "headline %zu: %g", i,
                     headlines.at[BRV_LESION][i].value);
    check_table(brv_csv_temperature, &result);
    check_table(brv_csv_depth, &result);
    check_table(brv_csv_grain, &result);
    check_texts(request, &result);
}

static void solve(const struct brv_request *request)
{
    struct brv_site site;
    struct brv_error error = {.place = ""};
    const struct brv_control control = {.threads = 1};
    const brv_status status = brv_site_solve(&site, &request->scenario, BRV_LESION, BRV_VALUES_ONLY, &control, &error);
    if (status) {
        fuzz_require(status == BRV_NUMERICS && error.place && *error.place, "words for status %d", (int)status);
        fuzz_require(!site.history.time && !site.light.layered.absorbed, "an empty answer");
        fuzz_given_up++;
        return;
    }
    check_light(&site.light);
    check_history(&site.history);
    check_audit(&site.audit);
    check_result(request, &site);
    brv_site_free(&site);
    fuzz_solved++;
}

void fuzz_whole(const uint8_t *data, size_t size)
{
    static struct brv_request request;
    static const char *const set[] = {"light.method=layered", "grain.diameter_spread=0", "grain.darkness_spread=0"};
    const size_t n_set =
        fuzz_mix(data, size) % 8 ? sizeof set / sizeof *set : 1; /* grains that differ take as long again */
    char *text = fuzz_text(data, size);
    struct brv_faults faults = {.n = 0};
    const int code = brv_request_parse(&request, NAME, text, size, set, n_set, &faults);
    fuzz_faults_check(&faults, code, NAME, text, size);
    if (!code) fuzz_sound++;
    if (!code && is_cheap(&request.scenario)) solve(&request);
    brv_faults_free(&faults);
    free(text);
}
