#include "scenario/verdict.h"

#include "scenario/allowed.h"
#include "scenario/rival.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct error_list {
    const struct brv_error *error;
    size_t n;
};

/* One error of the model, and what stands in the file about it. */
struct verdict {
    const struct brv_walk *walk;
    const struct error_list *all;
    const struct brv_error *error;
    size_t row, site, layer;
    const struct brv_node *node; /* the value, or NULL */
};

static enum brv_scope section_of(int scope)
{
    return scope == BRV_SCOPE_PULSE ? BRV_SCOPE_LIGHT : (enum brv_scope)scope;
}

/* What the lesion did not change stands where its neighbour's value does, and is called so. */
static struct verdict looked_up(const struct brv_walk *walk, const struct error_list *all,
                                const struct brv_error *error)
{
    struct verdict verdict = {walk, all, error, 0, BRV_NEIGHBOUR, 0, NULL};
    if (error->scope == BRV_SCOPE_LAYER) {
        verdict.site = (size_t)error->index / BRV_MOST_LAYERS;
        verdict.layer = (size_t)error->index % BRV_MOST_LAYERS;
    } else if (error->scope == BRV_SCOPE_GRAIN) {
        verdict.site = (size_t)error->index;
    }
    if (error->key < 0) return verdict;

    verdict.row = (size_t)error->key;
    verdict.node = walk->written[verdict.site][verdict.layer][verdict.row].node;
    if (!verdict.node && verdict.site == BRV_LESION) {
        verdict.site = BRV_NEIGHBOUR;
        verdict.node = walk->written[verdict.site][verdict.layer][verdict.row].node;
    }
    return verdict;
}

static const struct brv_node *last_layer(const struct brv_walk *walk)
{
    const size_t n = walk->request->scenario.skin[BRV_NEIGHBOUR].n_layer;
    return n ? walk->layer[BRV_NEIGHBOUR][n - 1] : NULL;
}

/* The value, else the layer, else the section, else the file; what lies below is missed at the last layer. */
static struct brv_place place_of(const struct verdict *verdict)
{
    const struct brv_walk *walk = verdict->walk;
    const struct brv_node *section = walk->section[section_of(verdict->error->scope)].node;
    if (verdict->node) return brv_node_place(verdict->node);
    if (verdict->error->scope == BRV_SCOPE_LAYER && walk->layer[verdict->site][verdict->layer])
        return walk->layer[verdict->site][verdict->layer]->at;
    if (section) return section->key_at;
    if (verdict->error->scope == BRV_SCOPE_BELOW && last_layer(walk)) return last_layer(walk)->at;
    return (struct brv_place){walk->document->name[0], 0, 0};
}

static void fault_at(const struct verdict *verdict, struct brv_place at, const char *text)
{
    brv_faults_add(verdict->walk->faults, at.file, at.line, at.column, "%s", text);
}

/* ---- what follows from an earlier fault ---- */

static bool any_layer_failed(const struct brv_walk *walk)
{
    if (walk->section[BRV_SCOPE_LAYER].failed || walk->lesion.failed) return true;
    for (size_t row = 0; row < brv_n_keys; row++)
        for (size_t i = 0; i < (size_t)BRV_N_SITE * BRV_MOST_LAYERS; i++)
            if (brv_keys[row].scope == BRV_SCOPE_LAYER &&
                walk->written[i / BRV_MOST_LAYERS][i % BRV_MOST_LAYERS][row].failed)
                return true;
    return false;
}

/* The key itself, or one that would have said the same. */
static bool key_failed(const struct verdict *verdict)
{
    const struct brv_walk *walk = verdict->walk;
    const struct brv_key *key = &brv_keys[verdict->row];
    for (size_t row = 0; row < brv_n_keys; row++) {
        const struct brv_key *other = &brv_keys[row];
        const bool counts = row == verdict->row || (other->scope == key->scope &&
                                                    brv_rival(brv_scope_name(key->scope), key->name, other->name));
        if (counts && walk->written[verdict->site][verdict->layer][row].failed) return true;
    }
    return false;
}

/* How things fit together is judged by values; while one of these is unread or out of its range, nothing is said of
 * it. NULL: any key of the scope.                                                                              */
static const struct {
    enum brv_scope scope;
    const char *key;
    enum brv_scope on_scope;
    const char *on_key;
} rests[] = {
    {BRV_SCOPE_LAYER, "blood", BRV_SCOPE_LAYER, "blood"},
    {BRV_SCOPE_LAYER, "blood", BRV_SCOPE_LAYER, "melanosomes"},
    {BRV_SCOPE_LAYER, "absorption", BRV_SCOPE_LAYER, "absorption"},
    {BRV_SCOPE_WATCH, "depths", BRV_SCOPE_LAYER, "thickness"},
    {BRV_SCOPE_WATCH, "until", BRV_SCOPE_WATCH, "until"},
    {BRV_SCOPE_WATCH, "criterion", BRV_SCOPE_WATCH, "criterion"},
    {BRV_SCOPE_WATCH, "criterion", BRV_SCOPE_SURFACE, NULL},
    {BRV_SCOPE_GRAIN, "diameter_spread", BRV_SCOPE_GRAIN, NULL},
    {BRV_SCOPE_GRAIN, "darkness_spread", BRV_SCOPE_GRAIN, NULL},
    {BRV_SCOPE_VESSEL, "depth", BRV_SCOPE_VESSEL, NULL},
    {BRV_SCOPE_WATCH, "until", BRV_SCOPE_PULSE, NULL},
    {BRV_SCOPE_LIGHT, "fluence", BRV_SCOPE_LIGHT, "spot"},
    {BRV_SCOPE_LIGHT, "energy", BRV_SCOPE_LIGHT, "spot"},
    {BRV_SCOPE_LADDER, "count", BRV_SCOPE_LADDER, "first"},
    {BRV_SCOPE_LADDER, "count", BRV_SCOPE_LADDER, "ratio"},
    {BRV_SCOPE_LADDER, "count", BRV_SCOPE_LADDER, "count"},
    {BRV_SCOPE_LADDER, "count", BRV_SCOPE_LIGHT, "spot"},
    {BRV_SCOPE_PULSE, "pulse", BRV_SCOPE_PULSE, "pulse"},
    {BRV_SCOPE_PULSE, "rate", BRV_SCOPE_PULSE, NULL},
    {BRV_SCOPE_PULSE, "count", BRV_SCOPE_PULSE, "count"},
    {BRV_SCOPE_PULSE, "passes", BRV_SCOPE_PULSE, "count"},
    {BRV_SCOPE_PULSE, "passes", BRV_SCOPE_PULSE, "passes"},
    {BRV_SCOPE_PULSE, "pause", BRV_SCOPE_PULSE, NULL},
    {BRV_SCOPE_ROOM, "divergence", BRV_SCOPE_ROOM, "beam"},
    {BRV_SCOPE_ROOM, "lens", BRV_SCOPE_ROOM, "beam"},
    {BRV_SCOPE_ROOM, "beam", BRV_SCOPE_ROOM, "divergence"},
    {BRV_SCOPE_ROOM, "beam", BRV_SCOPE_ROOM, "lens"},
    {BRV_SCOPE_SURFACE, "from", BRV_SCOPE_PULSE, NULL},
    {BRV_SCOPE_SURFACE, "from", BRV_SCOPE_SURFACE, "from"},
    {BRV_SCOPE_SURFACE, "from", BRV_SCOPE_SURFACE, "to"},
    {BRV_SCOPE_SURFACE, "from", BRV_SCOPE_SURFACE, "outside"},
    {BRV_SCOPE_SURFACE, "from", BRV_SCOPE_WATCH, "until"},
    {BRV_SCOPE_SURFACE, "to", BRV_SCOPE_PULSE, NULL},
    {BRV_SCOPE_SURFACE, "to", BRV_SCOPE_SURFACE, "from"},
    {BRV_SCOPE_SURFACE, "to", BRV_SCOPE_SURFACE, "to"},
    {BRV_SCOPE_SURFACE, "to", BRV_SCOPE_SURFACE, "outside"},
    {BRV_SCOPE_SURFACE, "to", BRV_SCOPE_WATCH, "until"},
    {BRV_SCOPE_SURFACE, "outside_temperature", BRV_SCOPE_SURFACE, "outside"},
};

static bool is_out_of_range(const struct error_list *all, int scope, int key, int index, bool same_struct)
{
    for (size_t i = 0; i < all->n; i++) {
        const struct brv_error *other = &all->error[i];
        if (other->status == BRV_RANGE && other->scope == scope && other->key == key &&
            (!same_struct || other->index == index))
            return true;
    }
    return false;
}

/* Layers have a rule of their own, any_layer_failed. */
static bool is_unread(const struct brv_walk *walk, size_t key)
{
    return brv_keys[key].scope != BRV_SCOPE_LAYER && walk->written[BRV_NEIGHBOUR][0][key].failed;
}

static bool rests_on_a_fault(const struct verdict *verdict)
{
    const struct brv_error *error = verdict->error;
    for (size_t i = 0; i < sizeof rests / sizeof *rests && error->status == BRV_ORDER; i++) {
        if ((int)rests[i].scope != error->scope || brv_key_find(rests[i].scope, rests[i].key) != error->key) continue;
        const bool same_struct = rests[i].scope == rests[i].on_scope;
        for (size_t key = 0; key < brv_n_keys; key++) {
            if (brv_keys[key].scope != rests[i].on_scope) continue;
            if (rests[i].on_key && strcmp(rests[i].on_key, brv_keys[key].name)) continue;
            if (is_unread(verdict->walk, key)) return true;
            if (is_out_of_range(verdict->all, (int)rests[i].on_scope, (int)key, error->index, same_struct)) return true;
        }
    }
    return false;
}

/* Said of pulses and surface, whatever the layers are. */
static bool is_about_layers(const struct brv_error *error)
{
    const bool apart = error->scope == BRV_SCOPE_LIGHT || error->scope == BRV_SCOPE_PULSE ||
                       error->scope == BRV_SCOPE_SURFACE || error->scope >= BRV_SCOPE_LADDER;
    return (error->status == BRV_ORDER && !apart) || error->scope == BRV_SCOPE_BELOW;
}

static bool follows(const struct verdict *verdict)
{
    const struct brv_error *error = verdict->error;
    if (rests_on_a_fault(verdict)) return true;
    if (error->status != BRV_RANGE && verdict->walk->section[section_of(error->scope)].failed) return true;
    if (is_about_layers(error) && error->status != BRV_RANGE && any_layer_failed(verdict->walk)) return true;
    return error->key >= 0 && key_failed(verdict);
}

/* ---- sentences ---- */

enum { SENTENCE_SIZE = 512 };

static void missing(const struct verdict *verdict)
{
    char text[SENTENCE_SIZE], path[BRV_WALK_PATH_SIZE], allowed[BRV_ALLOWED_SIZE];
    const struct brv_error *error = verdict->error;
    if (error->key < 0) {
        snprintf(text, sizeof text, "skin is missing: a list of layers, or a ready skin: light, intermediate or dark");
    } else {
        const struct brv_key *key = &brv_keys[verdict->row];
        const bool reason = error->scope == BRV_SCOPE_BELOW;
        snprintf(text, sizeof text, reason ? "%s is missing: %s (%s)" : "%s is missing: %s, %s",
                 brv_walk_path(path, verdict->walk, verdict->row, verdict->site, verdict->layer),
                 reason ? error->place : key->help, brv_allowed(allowed, key));
    }
    fault_at(verdict, place_of(verdict), text);
}

/* "light.pulse = 5 s, allowed 10 ps to 100 ms"; the user's own words where there are some. */
static void out_of_range(const struct verdict *verdict, const struct brv_node *node)
{
    char text[SENTENCE_SIZE], path[BRV_WALK_PATH_SIZE], allowed[BRV_ALLOWED_SIZE], found[BRV_ALLOWED_SIZE];
    const struct brv_key *key = &brv_keys[verdict->row];
    if (node && node->text)
        brv_fault_shown(found, node->text);
    else
        brv_allowed_value(found, key, verdict->error->found);
    snprintf(text, sizeof text, "%s = %s, %s",
             brv_walk_path(path, verdict->walk, verdict->row, verdict->site, verdict->layer), found,
             brv_allowed_said(allowed, key));
    fault_at(verdict, node ? brv_node_place(node) : place_of(verdict), text);
}

/* In which line the key stands that says the same; "" when it is in no line of the same file. */
static void write_other_line(char *out, size_t size, const struct verdict *verdict)
{
    const struct brv_key *key = &brv_keys[verdict->row];
    out[0] = '\0';
    for (size_t row = 0; row < brv_n_keys && verdict->node; row++) {
        const struct brv_node *other = verdict->walk->written[verdict->site][verdict->layer][row].node;
        if (!other || other->at.file != verdict->node->at.file || brv_keys[row].scope != key->scope) continue;
        if (!brv_rival(brv_scope_name(key->scope), key->name, brv_keys[row].name)) continue;
        snprintf(out, size, " (%s stands in line %d)", brv_keys[row].name, other->key_at.line);
        return;
    }
}

/* A value that stands well around the lesion and does not fit inside it is shown where it was written. */
static const char *where_only(const struct verdict *verdict)
{
    const struct brv_error *error = verdict->error;
    if (error->scope != BRV_SCOPE_LAYER || (size_t)error->index / BRV_MOST_LAYERS != BRV_LESION) return "";
    for (size_t i = 0; i < verdict->all->n; i++) {
        const struct brv_error *other = &verdict->all->error[i];
        if (other->scope == error->scope && other->key == error->key && other->status == error->status &&
            other->index == error->index + BRV_NEIGHBOUR * BRV_MOST_LAYERS)
            return "";
    }
    return verdict->walk->request->scenario.lesion_given ? " in the lesion"
                                                         : " in the lesion, which has 2.5 times the pigment here";
}

/* Three digits, so that what is told fits: up, or down. Degrees are no share of a scale that begins at 0 K. */
static double told(const struct brv_key *key, double value, bool up)
{
    if (key->dimension == BRV_TEMPERATURE || (key->dimension == BRV_PURE && !(value > floor(value)))) return value;
    const double last_digit = pow(10.0, floor(log10(value)) - 2.0), steps = value / last_digit;
    return last_digit * (up ? ceil(steps * (1.0 + 1e-9)) : floor(steps * (1.0 - 1e-9)));
}

/* ", here from 19 s on", ", here up to 2 /s": what would fit, where the model says so. */
static void write_bound(char *out, size_t size, const struct verdict *verdict)
{
    const struct brv_error *error = verdict->error;
    char value[BRV_ALLOWED_SIZE];
    out[0] = '\0';
    if (error->least > 0.0)
        snprintf(out, size, ", here from %.60s on",
                 brv_allowed_value(value, &brv_keys[verdict->row], told(&brv_keys[verdict->row], error->least, true)));
    else if (error->most > 0.0)
        snprintf(out, size, ", here up to %.60s",
                 brv_allowed_value(value, &brv_keys[verdict->row], told(&brv_keys[verdict->row], error->most, false)));
}

static void does_not_fit(const struct verdict *verdict, const struct brv_node *node)
{
    char text[SENTENCE_SIZE], path[BRV_WALK_PATH_SIZE], shown[BRV_SHOWN_SIZE] = "", other[80], bound[80];
    const char *said = node && node->text && *node->text ? node->text : NULL;
    if (verdict->error->key >= 0)
        brv_walk_path(path, verdict->walk, verdict->row, verdict->site, verdict->layer);
    else
        snprintf(path, sizeof path, "%s", brv_scope_name((enum brv_scope)verdict->error->scope));
    write_other_line(other, sizeof other, verdict);
    write_bound(bound, sizeof bound, verdict);
    snprintf(text, sizeof text, "%s%s%s: %s%s%s%s", path, said ? " = " : "", said ? brv_fault_shown(shown, said) : "",
             verdict->error->place, bound, where_only(verdict), other);
    fault_at(verdict, node ? brv_node_place(node) : place_of(verdict), text);
}

/* The entries of a list that an error of its key is about: out of range one by one, or below the skin. */
static bool is_about(const struct verdict *verdict, double depth)
{
    const struct brv_scenario *ask = &verdict->walk->request->scenario;
    if (verdict->error->status == BRV_RANGE) return depth == verdict->error->found;
    return depth <= brv_keys[verdict->row].most && depth > brv_skin_thickness(&ask->skin[BRV_NEIGHBOUR]);
}

static void in_list(const struct verdict *verdict)
{
    const struct brv_watch *watch = &verdict->walk->request->scenario.watch;
    for (size_t i = 0; i < watch->n_depth && i < verdict->node->n; i++) {
        if (!is_about(verdict, watch->depth[i])) continue;
        if (verdict->error->status == BRV_RANGE)
            out_of_range(verdict, &verdict->node->child[i]);
        else
            does_not_fit(verdict, &verdict->node->child[i]);
    }
}

static void tell(const struct verdict *verdict)
{
    const bool list = verdict->node && verdict->node->kind == BRV_NODE_LIST;
    if (verdict->error->status == BRV_MISSING)
        missing(verdict);
    else if (list)
        in_list(verdict);
    else if (verdict->error->status == BRV_RANGE)
        out_of_range(verdict, verdict->node);
    else
        does_not_fit(verdict, verdict->node);
}

static bool misses_light(const struct brv_error *error)
{
    return error->status == BRV_MISSING && section_of(error->scope) == BRV_SCOPE_LIGHT;
}

/* A section that is not there at all: one fault for all that it would have to hold. */
static void tell_missing_light(const struct brv_walk *walk, const struct error_list *all)
{
    char names[160];
    size_t length = 0;
    bool fluence = false;
    names[0] = '\0';
    for (size_t i = 0; i < all->n && length < sizeof names; i++) {
        const struct verdict verdict = looked_up(walk, all, &all->error[i]);
        if (!misses_light(&all->error[i]) || follows(&verdict)) continue;
        fluence = fluence || !strcmp(brv_keys[verdict.row].name, "fluence");
        length += (size_t)snprintf(names + length, sizeof names - length, "%s%s", length ? ", " : "",
                                   brv_keys[verdict.row].name);
    }
    if (length > 0)
        brv_faults_add(walk->faults, walk->document->name[0], 0, 0, "light is missing: a section that holds %s%s",
                       names, fluence ? " (or energy in place of fluence)" : "");
}

static void tell_all(const struct brv_walk *walk, const struct error_list *all)
{
    const bool no_light = !walk->section[BRV_SCOPE_LIGHT].node;
    if (no_light) tell_missing_light(walk, all);
    for (size_t i = 0; i < all->n; i++) {
        const struct verdict verdict = looked_up(walk, all, &all->error[i]);
        const bool told = no_light && misses_light(&all->error[i]);
        if (!told && !follows(&verdict)) tell(&verdict);
    }
}

void brv_verdict_list(const struct brv_walk *walk)
{
    const struct brv_scenario *ask = &walk->request->scenario;
    const size_t n = brv_scenario_check(ask, NULL, 0);
    if (n == 0) return;
    struct brv_error *fault = calloc(n, sizeof *fault);
    if (!fault) {
        walk->faults->out_of_memory = 1;
        return;
    }
    brv_scenario_check(ask, fault, n);
    tell_all(walk, &(struct error_list){fault, n});
    free(fault);
}
