/* The covering design: a factor is a key with the values that it is tried at, and a row gives some factors a value each.
 * A row holds at most STRESS_ROW_KEYS of them, so that one that is refused, or that makes all others matter little (no
 * light gets through), spoils few pairs. Greedy: the first pair that is left opens a row, then comes whatever meets most
 * that it has not met. Every step is checked, so a row is sound as a whole.                                          */
#include "stress/draw.h"

#include "base/constants.h"
#include "support/sample.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_FACTORS = 128, MOST_LEVELS = 5 };

/* Which layer a factor of layers means. */
enum where { NOWHERE, TOP, BOTTOM };

/* A factor is a key, or the number of layers (key < 0). */
struct factor {
    int key, where, n_level;
};

struct table {
    size_t n;
    struct factor factor[MOST_FACTORS];
    bool left[MOST_FACTORS][MOST_LEVELS][MOST_FACTORS][MOST_LEVELS]; /* first < second: not yet met */
};

static struct table table;

/* ---- factors ---- */

static bool is_asked(const struct brv_key *key)
{
    switch (key->scope) {
    case BRV_SCOPE_LADDER:
    case BRV_SCOPE_COVER:
    case BRV_SCOPE_ROOM:
    case BRV_SCOPE_VISITS:
    case BRV_SCOPE_COLOUR:
        return false;
    default:
        return key->kind != BRV_WORD || key->words[1]; /* a single word is no choice */
    }
}

static int levels_of(const struct brv_key *key)
{
    int n = 0;
    if (key->kind != BRV_WORD) return 2;
    while (key->words[n]) n++;
    return n;
}

static void add_factor(int key, enum where where, int n_level)
{
    table.factor[table.n++] = (struct factor){key, (int)where, n_level};
}

static void list_factors(void)
{
    table.n = 0;
    add_factor(-1, NOWHERE, 2);
    for (size_t i = 0; i < brv_n_keys; i++) {
        const struct brv_key *key = &brv_keys[i];
        if (!is_asked(key)) continue;
        if (key->scope == BRV_SCOPE_LAYER) add_factor((int)i, TOP, levels_of(key));
        add_factor((int)i, key->scope == BRV_SCOPE_LAYER ? BOTTOM : NOWHERE, levels_of(key));
    }
}

static bool is(const struct factor *factor, enum brv_scope scope, const char *name)
{
    return factor->key >= 0 && brv_keys[factor->key].scope == scope && !strcmp(brv_keys[factor->key].name, name);
}

/* The ends of a range, but where one can never be had or would take hours. */
static double end_of(const struct factor *factor, int level, size_t n_layer)
{
    const struct brv_key *key = &brv_keys[factor->key];
    if (key->kind == BRV_WORD) return level;
    if (key->kind == BRV_LAYER_REF) return level ? (double)n_layer - 1.0 : 0.0;
    if (is(factor, BRV_SCOPE_LIGHT, "photons") && level) return STRESS_MOST_PHOTONS;
    if (is(factor, BRV_SCOPE_SURFACE, "to") && !level) return key->least + 1.0; /* `from` must be earlier */
    if (key->above && !level) return key->least + 1e-6 * (key->most - key->least);
    return level ? key->most : key->least;
}

/* ---- from a row to a scenario ---- */

struct making {
    struct brv_scenario ask;
    const struct stress_row *row;
};

static int level_of(const struct making *making, enum brv_scope scope, const char *name)
{
    for (size_t i = 0; i < making->row->n; i++)
        if (is(&table.factor[making->row->pick[i].factor], scope, name)) return making->row->pick[i].level;
    return -1;
}

static bool has(const struct making *making, enum brv_scope scope, const char *name)
{
    return level_of(making, scope, name) >= 0;
}

static bool has_any(const struct making *making, enum brv_scope scope)
{
    for (size_t i = 0; i < making->row->n; i++) {
        const int key = table.factor[making->row->pick[i].factor].key;
        if (key >= 0 && brv_keys[key].scope == scope) return true;
    }
    return false;
}

/* Gives a key, but not over what the row says of it. */
static void beside(struct making *making, enum brv_scope scope, const char *name, double value)
{
    if (!has(making, scope, name)) stress_set(brv_key_scope(&making->ask, scope, BRV_NEIGHBOUR, 0), scope, name, value);
}

static void lay_layer(struct brv_skin *skin, enum brv_layer_kind kind, double thickness)
{
    struct brv_layer_ask *layer = &skin->layer[skin->n_layer++];
    stress_set(layer, BRV_SCOPE_LAYER, "kind", kind);
    stress_set(layer, BRV_SCOPE_LAYER, "thickness", thickness);
    if (kind == BRV_EPIDERMIS) stress_set(layer, BRV_SCOPE_LAYER, "melanosomes", 0.02);
    if (kind == BRV_BASAL) stress_set(layer, BRV_SCOPE_LAYER, "melanosomes", 0.1);
}

/* Epidermis, basal row and dermis; one layer of dermis; or as many as there may be. */
static void lay_skin(struct brv_skin *skin, int level, size_t most)
{
    for (size_t i = 0; level == 1 && i < most - 3; i++) lay_layer(skin, BRV_EPIDERMIS, 4e-6);
    if (level != 0) lay_layer(skin, BRV_EPIDERMIS, 50e-6);
    if (level != 0) lay_layer(skin, BRV_BASAL, 10e-6);
    lay_layer(skin, BRV_DERMIS, INFINITY);
    if (level == 0) stress_set(&skin->layer[0], BRV_SCOPE_LAYER, "melanosomes", 0.02); /* or no grain is warmed */
}

/* What a key cannot do without. */
static void add_light(struct making *making)
{
    const bool walk = has(making, BRV_SCOPE_LIGHT, "photons") || has(making, BRV_SCOPE_LIGHT, "error") ||
                      has(making, BRV_SCOPE_LIGHT, "seed");
    const int energy = level_of(making, BRV_SCOPE_LIGHT, "energy");
    beside(making, BRV_SCOPE_LIGHT, "wavelength", 532e-9);
    beside(making, BRV_SCOPE_LIGHT, "spot",
           energy < 0    ? 4e-3
           : energy == 0 ? 1e-3
                         : 30e-3); /* or the fluence is none */
    if (!has(making, BRV_SCOPE_LIGHT, "energy")) beside(making, BRV_SCOPE_LIGHT, "fluence", 6e3);
    if (walk) beside(making, BRV_SCOPE_LIGHT, "method", BRV_METHOD_SAMPLED);
    if (walk || level_of(making, BRV_SCOPE_LIGHT, "method") == BRV_METHOD_SAMPLED)
        beside(making, BRV_SCOPE_LIGHT, "photons", STRESS_MOST_PHOTONS);
}

static void add_pulse(struct making *making)
{
    const bool soon = level_of(making, BRV_SCOPE_WATCH, "until") == 0;
    const bool rate = has(making, BRV_SCOPE_PULSE, "rate"), pause = has(making, BRV_SCOPE_PULSE, "pause");
    const int count = level_of(making, BRV_SCOPE_PULSE, "count"), passes = level_of(making, BRV_SCOPE_PULSE, "passes");
    beside(making, BRV_SCOPE_PULSE, "pulse", soon ? 1e-10 : 7e-9);
    if (count > 0) beside(making, BRV_SCOPE_PULSE, "rate", 1.0);
    if (rate) beside(making, BRV_SCOPE_PULSE, "count", 3.0);
    if (passes > 0) beside(making, BRV_SCOPE_PULSE, "pause", 10.0);
    if (pause) beside(making, BRV_SCOPE_PULSE, "passes", 2.0);
}

static void add_surface(struct making *making)
{
    const bool timed = has(making, BRV_SCOPE_SURFACE, "from") || has(making, BRV_SCOPE_SURFACE, "to");
    const int word = level_of(making, BRV_SCOPE_SURFACE, "outside");
    if (timed || has(making, BRV_SCOPE_SURFACE, "outside_temperature"))
        if (!has(making, BRV_SCOPE_SURFACE, "index")) beside(making, BRV_SCOPE_SURFACE, "outside", BRV_PLATE);
    if (word > BRV_GEL || (making->ask.surface.outside > BRV_GEL && word < 0))
        beside(making, BRV_SCOPE_SURFACE, "outside_temperature", BRV_ZERO_C + 5.0);
    if (level_of(making, BRV_SCOPE_SURFACE, "to") == 0) beside(making, BRV_SCOPE_SURFACE, "from", -600.0);
    if (level_of(making, BRV_SCOPE_SURFACE, "from") == 1) beside(making, BRV_SCOPE_WATCH, "until", 4000.0);
    if (level_of(making, BRV_SCOPE_SURFACE, "to") == 1) beside(making, BRV_SCOPE_WATCH, "until", 4000.0);
}

static void add_film(struct making *making)
{
    if (!has_any(making, BRV_SCOPE_FILM)) return;
    beside(making, BRV_SCOPE_FILM, "thickness", 5e-6);
    beside(making, BRV_SCOPE_FILM, "absorption", 2e5);
}

/* The end of the stack: something lies below where it has one. */
static void add_below(struct making *making)
{
    struct brv_skin *skin = &making->ask.skin[BRV_NEIGHBOUR];
    struct brv_layer_ask *last = &skin->layer[skin->n_layer - 1];
    if (has(making, BRV_SCOPE_BELOW, "index") && isinf(last->thickness))
        stress_set(last, BRV_SCOPE_LAYER, "thickness", 2e-3);
    if (isfinite(last->thickness)) beside(making, BRV_SCOPE_BELOW, "index", 1.4);
}

static void set_depths(struct brv_watch *watch, int level, double whole)
{
    watch->n_depth = level ? BRV_MOST_DEPTHS : 1;
    for (size_t i = 0; i < watch->n_depth; i++)
        watch->depth[i] = level ? fmin(0.02, whole) * (double)(i + 1) / BRV_MOST_DEPTHS : 0.0;
    for (size_t i = 0; i < watch->n_depth; i++) { /* to the digits of its text, and not below the last layer */
        char text[40];
        snprintf(text, sizeof text, "%.5e", watch->depth[i]);
        watch->depth[i] = fmin(strtod(text, NULL), fmin(0.02, whole));
    }
    sample_give(watch, BRV_SCOPE_WATCH, "depths");
}

/* The skin's composition goes where an absorption is given outright, but for what the row itself asks. */
static void set_layer(struct making *making, const struct factor *factor, double value)
{
    struct brv_skin *skin = &making->ask.skin[BRV_NEIGHBOUR];
    struct brv_layer_ask *layer = &skin->layer[factor->where == TOP ? 0 : skin->n_layer - 1];
    if (is(factor, BRV_SCOPE_LAYER, "absorption")) stress_take_back(layer, BRV_SCOPE_LAYER, "melanosomes");
    stress_set_key(layer, (size_t)factor->key, value);
}

static void set_pick(struct making *making, const struct stress_pick *pick)
{
    const struct factor *factor = &table.factor[pick->factor];
    struct brv_scenario *ask = &making->ask;
    const size_t n_layer = ask->skin[BRV_NEIGHBOUR].n_layer;
    if (factor->key < 0) return; /* the layers are there already */
    if (brv_keys[factor->key].kind == BRV_LIST) return;
    const double value = end_of(factor, pick->level, n_layer);
    if (factor->where)
        set_layer(making, factor, value);
    else
        stress_set_key(brv_key_scope(ask, brv_keys[factor->key].scope, BRV_NEIGHBOUR, 0), (size_t)factor->key, value);
}

static int pick_order(const void *a, const void *b)
{
    return ((const struct stress_pick *)a)->factor - ((const struct stress_pick *)b)->factor;
}

struct brv_scenario stress_row_scenario(const struct stress_row *row)
{
    struct stress_row sorted = *row;
    qsort(sorted.pick, sorted.n, sizeof *sorted.pick, pick_order);
    struct making making = {.row = &sorted};
    struct brv_skin *skin = &making.ask.skin[BRV_NEIGHBOUR];
    const int layers = sorted.n && table.factor[sorted.pick[0].factor].key < 0 ? sorted.pick[0].level : -1;
    lay_skin(skin, layers, has_any(&making, BRV_SCOPE_FILM) ? BRV_MOST_LAYERS - 1 : BRV_MOST_LAYERS);
    for (size_t i = 0; i < sorted.n; i++) set_pick(&making, &sorted.pick[i]);
    add_light(&making);
    add_pulse(&making);
    add_surface(&making);
    add_film(&making);
    add_below(&making);
    const int depths = level_of(&making, BRV_SCOPE_WATCH, "depths");
    if (depths >= 0) set_depths(&making.ask.watch, depths, brv_skin_thickness(skin));
    making.ask.skin[BRV_LESION] = *skin;
    return making.ask;
}

/* ---- covering ---- */

static bool *pair_left(const struct stress_pick *a, const struct stress_pick *b)
{
    const struct stress_pick *first = a->factor < b->factor ? a : b, *second = first == a ? b : a;
    return &table.left[first->factor][first->level][second->factor][second->level];
}

/* Can this row also have `pick`? One layer is top and bottom at once and is tried as the bottom. */
static bool fits(struct stress_row *row, const struct stress_pick *pick, struct stress_refusals *refusals)
{
    struct brv_scenario filled, drawn;
    bool one = false, top = false;
    row->pick[row->n++] = *pick;
    for (size_t i = 0; i < row->n; i++) {
        const struct factor *factor = &table.factor[row->pick[i].factor];
        one |= factor->key < 0 && row->pick[i].level == 0;
        top |= factor->where == TOP;
    }
    drawn = stress_row_scenario(row);
    const bool sound = stress_sound(&filled, &drawn, one && top ? NULL : refusals) && !(one && top);
    if (!sound) row->n--;
    return sound;
}

/* Which pairs can be had at all, with the rest at defaults. */
static void try_pairs(struct stress_design *design)
{
    for (int a = 0; a < (int)table.n; a++)
        for (int b = a + 1; b < (int)table.n; b++)
            for (int i = 0; i < table.factor[a].n_level; i++)
                for (int j = 0; j < table.factor[b].n_level; j++) {
                    struct stress_row row = {.n = 1, .pick = {{a, i}}};
                    const struct stress_pick second = {b, j};
                    const bool had = fits(&row, &second, &design->refusals);
                    table.left[a][i][b][j] = had;
                    design->n_pair++;
                    design->n_covered += had;
                }
}

static size_t gain(const struct stress_row *row, const struct stress_pick *pick)
{
    size_t n = 0;
    for (size_t i = 0; i < row->n; i++) {
        if (row->pick[i].factor == pick->factor) return 0;
        n += *pair_left(&row->pick[i], pick);
    }
    return n;
}

/* The best value that was not tried for this row yet. */
static size_t best_gain(struct stress_pick *best, const struct stress_row *row, bool tried[MOST_FACTORS][MOST_LEVELS])
{
    size_t most = 0;
    for (int a = 0; a < (int)table.n; a++)
        for (int i = 0; i < table.factor[a].n_level; i++) {
            const struct stress_pick pick = {a, i};
            const size_t n = tried[a][i] ? 0 : gain(row, &pick);
            if (n <= most) continue;
            most = n;
            *best = pick;
        }
    return most;
}

static void fill_row(struct stress_row *row)
{
    bool tried[MOST_FACTORS][MOST_LEVELS] = {{false}};
    struct stress_pick best = {0, 0};
    while (row->n < STRESS_ROW_KEYS && best_gain(&best, row, tried) > 0) {
        tried[best.factor][best.level] = true;
        fits(row, &best, NULL);
    }
    for (size_t i = 0; i < row->n; i++)
        for (size_t j = i + 1; j < row->n; j++) *pair_left(&row->pick[i], &row->pick[j]) = false;
}

static void cover(struct stress_design *design)
{
    for (int a = 0; a < (int)table.n; a++)
        for (int i = 0; i < table.factor[a].n_level; i++)
            for (int b = a + 1; b < (int)table.n; b++)
                for (int j = 0; j < table.factor[b].n_level && design->n_row < STRESS_MOST_ROWS; j++) {
                    if (!table.left[a][i][b][j]) continue;
                    struct stress_row *row = &design->row[design->n_row++];
                    *row = (struct stress_row){.n = 2, .pick = {{a, i}, {b, j}}};
                    fill_row(row);
                }
}

void stress_design_make(struct stress_design *design)
{
    memset(design, 0, sizeof *design);
    list_factors();
    try_pairs(design);
    cover(design);
}
