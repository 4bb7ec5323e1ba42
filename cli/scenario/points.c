#include "scenario/points.h"

#include "command/command.h"
#include "command/options.h"
#include "report/hash.h"
#include "report/number.h"
#include "scenario/document.h"

#include <inttypes.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_REFUSED = 8, SETTING_SIZE = BRV_VARY_PATH_SIZE + BRV_VARY_VALUE_SIZE + 1 };

/* ---- one point ---- */

size_t brv_points_at(const struct brv_points *points, size_t point, size_t which)
{
    if (points->n_vary < 2) return point;
    return which == 0 ? point / points->vary[1].n : point % points->vary[1].n;
}

const char *brv_points_text(char out[BRV_POINTS_TEXT_SIZE], const struct brv_points *points, size_t point)
{
    char value[BRV_VARY_VALUE_SIZE];
    size_t n = 0;
    out[0] = '\0';
    for (size_t i = 0; i < points->n_vary; i++)
        n += (size_t)snprintf(out + n, BRV_POINTS_TEXT_SIZE - n, "%s%s = %s", i ? ", " : "", points->vary[i].path,
                              brv_vary_text(value, &points->vary[i], brv_points_at(points, point, i)));
    return out;
}

/* The scenario with a value more for each key; `value` [n_vary]. */
static int read_with(struct brv_request *request, const struct brv_points *points, char value[][BRV_VARY_VALUE_SIZE],
                     struct brv_faults *faults)
{
    const char *set[BRV_MOST_SETS + BRV_POINTS_KEYS];
    char setting[BRV_POINTS_KEYS][SETTING_SIZE];
    for (size_t i = 0; i < points->n_set; i++) set[i] = points->set[i];
    for (size_t i = 0; i < points->n_vary; i++) {
        snprintf(setting[i], SETTING_SIZE, "%s=%s", points->vary[i].path, value[i]);
        set[points->n_set + i] = setting[i];
    }
    return brv_request_parse(request, points->name, points->text, points->size, set, points->n_set + points->n_vary,
                             faults);
}

static int read_point(struct brv_request *request, const struct brv_points *points, size_t point,
                      struct brv_faults *faults)
{
    char value[BRV_POINTS_KEYS][BRV_VARY_VALUE_SIZE];
    for (size_t i = 0; i < points->n_vary; i++)
        brv_vary_text(value[i], &points->vary[i], brv_points_at(points, point, i));
    return read_with(request, points, value, faults);
}

int brv_points_request(struct brv_request *request, const struct brv_points *points, size_t point)
{
    struct brv_faults faults = {.n = 0};
    const int code = read_point(request, points, point, &faults);
    brv_faults_free(&faults);
    return code;
}

/* ---- what a scenario says of the keys and their ends ---- */

static const struct brv_vary *vary_of(const struct brv_points *points, const struct brv_fault *fault)
{
    char place[BRV_VARY_PLACE_SIZE];
    for (size_t i = 0; i < points->n_vary; i++)
        if (!strncmp(fault->file, "--set ", 6) &&
            !strcmp(fault->file + 6, brv_vary_place(place, points->vary[i].path) + 7))
            return &points->vary[i];
    return NULL;
}

/* What stands in a setting stands at the same column in --vary, or, of TO, later. */
static int column_in(const struct brv_vary *vary, const struct brv_fault *fault, bool last)
{
    const int value = (int)strlen(vary->path) + 2;
    if (fault->column < value) return fault->column;
    return fault->column - value + (last ? vary->to_column : vary->from_column);
}

/* Lists the faults that the varied keys have where all are at one end. */
static void list_ends(const struct brv_points *points, bool last, struct brv_faults *faults)
{
    struct brv_request request;
    struct brv_faults found = {.n = 0};
    char value[BRV_POINTS_KEYS][BRV_VARY_VALUE_SIZE], place[BRV_VARY_PLACE_SIZE];
    for (size_t i = 0; i < points->n_vary; i++)
        memcpy(value[i], last ? points->vary[i].to_text : points->vary[i].from_text, sizeof value[i]);
    read_with(&request, points, value, &found);
    for (size_t i = 0; i < found.n; i++) {
        const struct brv_vary *vary = vary_of(points, &found.fault[i]);
        if (vary)
            brv_faults_add(faults, brv_vary_place(place, vary->path), 1, column_in(vary, &found.fault[i], last), "%s",
                           found.fault[i].text);
    }
    faults->out_of_memory |= found.out_of_memory;
    brv_faults_free(&found);
}

static bool has_fault(const struct brv_faults *faults, const char *path)
{
    char place[BRV_VARY_PLACE_SIZE];
    brv_vary_place(place, path);
    for (size_t i = 0; i < faults->n; i++)
        if (!strcmp(faults->fault[i].file, place)) return true;
    return false;
}

/* The keys whose form is good, with the faults of all; twice the same key is one fault. */
static void split_all(struct brv_points *points, const char *const argument[], size_t n, struct brv_faults *faults)
{
    char place[BRV_VARY_PLACE_SIZE];
    for (size_t i = 0; i < n && i < BRV_POINTS_KEYS; i++) {
        struct brv_vary vary;
        const bool good = brv_vary_split(&vary, argument[i], &points->base, faults);
        const size_t length = strcspn(argument[i], "=");
        const bool twice = i > 0 && length == strcspn(argument[0], "=") && !strncmp(argument[0], argument[i], length);
        if (twice)
            brv_faults_add(faults, brv_vary_place(place, vary.path), 1, 1, "%s is varied twice; another key is wanted",
                           vary.path);
        else if (good)
            points->vary[points->n_vary++] = vary;
    }
}

static void measure_all(struct brv_points *points, struct brv_faults *faults)
{
    char place[BRV_VARY_PLACE_SIZE];
    list_ends(points, false, faults);
    list_ends(points, true, faults);
    for (size_t i = 0; i < points->n_vary; i++) {
        struct brv_vary *vary = &points->vary[i];
        if (has_fault(faults, vary->path)) continue;
        if (vary->key)
            brv_vary_measure(vary, faults);
        else
            brv_faults_add(faults, brv_vary_place(place, vary->path), 1, 1,
                           "%s is no key that takes a number; a sweep varies one, such as light.spot", vary->path);
    }
}

static void count_points(struct brv_points *points, struct brv_faults *faults)
{
    char place[BRV_VARY_PLACE_SIZE];
    const struct brv_vary *last = &points->vary[points->n_vary - 1];
    points->n = 1;
    for (size_t i = 0; i < points->n_vary; i++) points->n *= points->vary[i].n;
    if (points->n > BRV_VARY_MOST)
        brv_faults_add(faults, brv_vary_place(place, last->path), 1, last->n_column,
                       "%zu x %zu = %zu points, allowed at most %d in all", points->vary[0].n, points->vary[1].n,
                       points->n, (int)BRV_VARY_MOST);
}

/* ---- all points ---- */

static void add_text(uint64_t *hash, const char *text)
{
    for (const char *c = text; *c; c++) *hash = (*hash ^ (unsigned char)*c) * 1099511628211u;
    *hash = (*hash ^ ';') * 1099511628211u;
}

static bool among(const struct brv_faults *faults, const struct brv_fault *fault)
{
    for (size_t i = 0; i < faults->n; i++)
        if (!strcmp(faults->fault[i].file, fault->file) && !strcmp(faults->fault[i].text, fault->text)) return true;
    return false;
}

/* What the scenario has without --vary is told once, as its own. */
static void list_point(const struct brv_points *points, size_t point, const struct brv_faults *own,
                       const struct brv_faults *found, struct brv_faults *faults)
{
    char place[BRV_VARY_PLACE_SIZE], values[BRV_POINTS_TEXT_SIZE];
    brv_points_text(values, points, point);
    for (size_t i = 0; i < found->n; i++) {
        const struct brv_fault *fault = &found->fault[i];
        const struct brv_vary *vary = vary_of(points, fault);
        if (among(own, fault)) continue;
        brv_faults_add(faults, vary ? brv_vary_place(place, vary->path) : fault->file, fault->line,
                       vary ? column_in(vary, fault, false) : fault->column, "%s (at %s)", fault->text, values);
    }
}

/* Those of the first few points that are refused; the others are counted, or, where the scenario has faults of its own that
 * every point would meet again, not looked at. Returns how many there are.                                             */
static size_t check_points(struct brv_points *points, const struct brv_faults *own, struct brv_faults *faults)
{
    size_t refused = 0, i;
    struct brv_request request;
    char place[BRV_VARY_PLACE_SIZE], asked[BRV_HASH_SIZE];
    for (i = 0; i < points->n && !faults->out_of_memory && !(own->n && refused > MOST_REFUSED); i++) {
        struct brv_faults found = {.n = 0};
        read_point(&request, points, i, &found);
        faults->out_of_memory |= found.out_of_memory;
        if (found.n && refused++ < MOST_REFUSED) list_point(points, i, own, &found, faults);
        if (!found.n) add_text(&points->asked, brv_hash_scenario(asked, &request.scenario));
        brv_faults_free(&found);
    }
    if (refused > MOST_REFUSED && faults->n && i == points->n)
        brv_faults_add(faults, brv_vary_place(place, points->vary[0].path), 1, 1,
                       "%zu further points of %zu are refused", refused - MOST_REFUSED, points->n);
    else if (refused > MOST_REFUSED && faults->n)
        brv_faults_add(faults, brv_vary_place(place, points->vary[0].path), 1, 1,
                       "further points are refused; the last %zu of %zu were not looked at", points->n - i, points->n);
    return refused;
}

static void move_faults(struct brv_faults *to, const struct brv_faults *from)
{
    for (size_t i = 0; i < from->n; i++)
        brv_faults_add(to, from->fault[i].file, from->fault[i].line, from->fault[i].column, "%s", from->fault[i].text);
    to->out_of_memory |= from->out_of_memory;
}

/* A scenario that only --vary makes whole (no pulse, and --vary light.pulse) is good; else its own faults come first. */
static void read_all(struct brv_points *points, const char *const argument[], size_t n, const struct brv_faults *own,
                     struct brv_faults *faults)
{
    struct brv_faults found = {.n = 0};
    split_all(points, argument, n, &found);
    if (points->n_vary) measure_all(points, &found);
    if (points->n_vary && !found.n) count_points(points, &found);
    const size_t refused = found.n || points->n_vary < n ? 1 : check_points(points, own, &found);
    if (refused) move_faults(faults, own);
    move_faults(faults, &found);
    brv_faults_free(&found);
    points->own = own->n == 0;
    if (!points->own && !faults->n)
        faults->out_of_memory |= brv_points_request(&points->base, points, 0) != BRV_EXIT_DONE;
}

int brv_points_read(struct brv_points *points, const char *path, const char *const set[], size_t n_set,
                    const char *const vary[], size_t n_vary, struct brv_faults *faults)
{
    struct brv_faults own = {.n = 0};
    *points = (struct brv_points){
        .name = brv_document_called(path), .set = set, .n_set = n_set, .asked = 14695981039346656037u};
    int code = brv_document_load(&points->text, &points->size, path, faults);
    if (code) return code;
    code = brv_request_parse(&points->base, points->name, points->text, points->size, set, n_set, &own);
    if (code == BRV_EXIT_DONE || code == BRV_EXIT_REFUSED) read_all(points, vary, n_vary, &own, faults);
    faults->out_of_memory |= own.out_of_memory;
    brv_faults_free(&own);
    if (faults->out_of_memory) return BRV_EXIT_MEMORY;
    return faults->n ? BRV_EXIT_REFUSED : BRV_EXIT_DONE;
}

void brv_points_free(struct brv_points *points)
{
    free(points->text);
    *points = (struct brv_points){.text = NULL};
}

/* ---- the hash ---- */

const char *brv_points_hash(char out[BRV_POINTS_HASH_SIZE], const struct brv_points *points)
{
    uint64_t hash = points->asked;
    char text[BRV_NUMBER_SIZE];
    for (size_t i = 0; i < points->n_vary; i++) {
        add_text(&hash, points->vary[i].path);
        for (size_t k = 0; k < points->vary[i].n; k++)
            add_text(&hash, brv_number_exact(text, brv_vary_value(&points->vary[i], k)));
    }
    snprintf(out, BRV_POINTS_HASH_SIZE, "%016" PRIx64, hash);
    return out;
}
