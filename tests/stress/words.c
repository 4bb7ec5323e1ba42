/* The same scenario as the text of a file: read again, told, and given to the program itself. */
#include "stress/hold.h"

#include "report/digest.h"
#include "report/summary.h"
#include "scenario/request.h"

#include <ctype.h>
#include <fcntl.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

enum { EXIT_DONE = 0, EXIT_NUMERICS = 5, PATH_SIZE = 128 };

/* ---- read again ---- */

static bool same_value(const struct brv_key *key, const char *a, const char *b)
{
    size_t n = 1, other = 1;
    if (key->kind == BRV_WORD || key->kind == BRV_LAYER_REF) return !memcmp(a, b, sizeof(int));
    if (key->kind == BRV_LIST) {
        memcpy(&n, a - sizeof n, sizeof n);
        memcpy(&other, b - sizeof other, sizeof other);
    }
    for (size_t i = 0; i < n && n == other; i++) {
        double x, y;
        memcpy(&x, a + i * sizeof x, sizeof x);
        memcpy(&y, b + i * sizeof y, sizeof y);
        if (x < y || x > y) return false;
    }
    return n == other;
}

/* Every key of every scope, to the last bit: the writer moves the point in the text, and the reader promises the double
 * nearest to the decimal number.                                                                                   */
static void compare_scenarios(struct stress_finding *finding, struct brv_scenario *drawn, struct brv_scenario *read)
{
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        stress_hold_true(finding, "read: number of layers", drawn->skin[site].n_layer == read->skin[site].n_layer);
        for (size_t layer = 0; layer < drawn->skin[site].n_layer; layer++)
            for (size_t key = 0; key < brv_n_keys; key++) {
                const struct brv_key *row = &brv_keys[key];
                const char *a = brv_key_scope(drawn, row->scope, site, layer);
                const char *b = brv_key_scope(read, row->scope, site, layer);
                char words[STRESS_WORDS];
                if (same_value(row, a + row->offset, b + row->offset)) continue;
                snprintf(words, sizeof words, "read: %s.%s", brv_scope_name(row->scope), row->name);
                stress_hold_true(finding, words, false);
            }
    }
}

static bool read_text(struct brv_request *request, const char *text, size_t size, char fault[STRESS_WORDS])
{
    struct brv_faults faults = {.n = 0};
    const int code = brv_request_parse(request, "text", text, size, NULL, 0, &faults);
    snprintf(fault, STRESS_WORDS, "read: %.80s", faults.n ? faults.fault[0].text : "refused");
    brv_faults_free(&faults);
    return code == EXIT_DONE;
}

void stress_reading(struct stress_finding *finding, const struct stress_drawn *one)
{
    char *text = NULL, fault[STRESS_WORDS];
    size_t size = 0;
    struct brv_request *request = malloc(sizeof *request);
    struct brv_scenario ask = one->ask;
    FILE *file = open_memstream(&text, &size);
    stress_write(file, &one->drawn);
    fclose(file);
    if (read_text(request, text, size, fault))
        compare_scenarios(finding, &ask, &request->scenario);
    else
        stress_hold_true(finding, fault, false);
    free(text);
    free(request);
}

/* ---- told ---- */

/* A word `nan` or `inf` is a number that went wrong on its way. */
static bool has_no_number(const char *text)
{
    for (const char *at = text; *at; at++) {
        if (at > text && isalpha((unsigned char)at[-1])) continue;
        for (int word = 0; word < 2; word++) {
            const char *name = word ? "inf" : "nan";
            size_t n = 0;
            while (name[n] && tolower((unsigned char)at[n]) == name[n]) n++;
            if (!name[n] && !isalpha((unsigned char)at[n])) return true;
        }
    }
    return false;
}

void stress_telling(struct stress_finding *finding, const struct stress_drawn *one, const struct brv_result *result)
{
    char *text = NULL;
    size_t size = 0;
    FILE *file = open_memstream(&text, &size);
    struct brv_request *request = calloc(1, sizeof *request);
    request->scenario = one->ask;
    for (size_t i = 0; i < one->ask.skin[BRV_NEIGHBOUR].n_layer; i++)
        snprintf(request->layer_name[i], sizeof request->layer_name[i], "layer%zu", i);
    brv_digest_write(file, request, result);
    brv_summary_write(file, request, result);
    fclose(file);
    stress_hold_true(finding, "told: no number in summary.json or summary.txt", !has_no_number(text));
    free(text);
    free(request);
}

/* ---- the program ---- */

static bool write_scenario(const char *path, const struct stress_drawn *one)
{
    FILE *file = fopen(path, "w");
    if (!file) return false;
    stress_write(file, &one->drawn);
    return !fclose(file);
}

/* Its exit code, or -1 when it died; words to `box`/stderr. */
static int call(const char *program, const char *box, const char *scenario)
{
    char out[PATH_SIZE], words[PATH_SIZE];
    int ended = 0;
    snprintf(out, sizeof out, "%s/out", box);
    snprintf(words, sizeof words, "%s/stderr", box);
    const pid_t child = fork();
    if (child == 0) {
        const int to = open(words, O_WRONLY | O_CREAT | O_TRUNC, 0600);
        if (to < 0 || dup2(to, STDERR_FILENO) < 0) _exit(126);
        execl(program, program, "run", "--no-figures", "--quiet", "--threads", "1", "--out", out, scenario,
              (char *)NULL);
        _exit(127);
    }
    if (child < 0 || waitpid(child, &ended, 0) != child || !WIFEXITED(ended)) return -1;
    return WEXITSTATUS(ended);
}

static bool is_there(const char *box, const char *name)
{
    char path[PATH_SIZE];
    struct stat found;
    snprintf(path, sizeof path, "%s/%s", box, name);
    return !stat(path, &found) && found.st_size > 0;
}

static void clear_away(const char *box)
{
    static const char *const name[] = {"temperature.csv", "depth.csv",  "map.csv",      "train.csv",   "grain.csv",
                                       "disrupted.csv",   "beside.csv", "summary.json", "summary.txt", "report.html"};
    char path[PATH_SIZE];
    for (size_t i = 0; i < sizeof name / sizeof *name; i++) {
        snprintf(path, sizeof path, "%s/out/%s", box, name[i]);
        unlink(path);
    }
    snprintf(path, sizeof path, "%s/out", box);
    rmdir(path);
    snprintf(path, sizeof path, "%s/stderr", box);
    unlink(path);
    snprintf(path, sizeof path, "%s/scenario.yaml", box);
    unlink(path);
    rmdir(box);
}

void stress_program(struct stress_finding *finding, const struct stress_drawn *one, const char *program,
                    brv_status status)
{
    char box[] = "/tmp/brevis_stress_XXXXXX", scenario[PATH_SIZE];
    if (!mkdtemp(box)) return;
    snprintf(scenario, sizeof scenario, "%s/scenario.yaml", box);
    stress_hold_true(finding, "program: the scenario is written", write_scenario(scenario, one));
    const int code = call(program, box, scenario);
    stress_hold_true(finding, "program: exit code", code == (status ? EXIT_NUMERICS : EXIT_DONE));
    stress_hold_true(finding, "program: words on stderr when it fails, and only then",
                     is_there(box, "stderr") == (code != EXIT_DONE));
    stress_hold_true(finding, "program: a summary when it ends well, and only then",
                     is_there(box, "out/summary.json") == (code == EXIT_DONE) &&
                         is_there(box, "out/report.html") == (code == EXIT_DONE));
    clear_away(box);
    finding->program = true;
}
