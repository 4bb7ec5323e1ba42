/* The one table of keys: everything a scenario may hold, in SI.
 *
 * Reader, range messages, `brevis explain` and the reference page come from it. A new parameter is one row here
 * and one field in scenario.h.                                                                                */
#ifndef BRV_SCENARIO_KEYS_H
#define BRV_SCENARIO_KEYS_H

#include "scenario/scenario.h"

#include <stdbool.h>
#include <stddef.h>

/* Where a key stands: its path is `light.NAME`, `skin.LAYER.NAME`, `grain.NAME`, `surface.NAME`, ... */
enum brv_scope {
    BRV_SCOPE_LIGHT, /* struct brv_beam  */
    BRV_SCOPE_PULSE, /* struct brv_pulse; written in the light section too */
    BRV_SCOPE_LAYER, /* struct brv_layer_ask */
    BRV_SCOPE_GRAIN, /* struct brv_grain_ask */
    BRV_SCOPE_SURFACE,
    BRV_SCOPE_BELOW,
    BRV_SCOPE_WATCH,
    BRV_SCOPE_VESSEL,
    BRV_SCOPE_LADDER,
    BRV_SCOPE_COVER,
    BRV_SCOPE_ROOM,
    BRV_SCOPE_VISITS,
    BRV_SCOPE_FILM,
    BRV_SCOPE_COLOUR, /* struct brv_skin_colour, within the section skin */
    BRV_N_SCOPE
};

enum brv_key_kind {
    BRV_QUANTITY,  /* double with a unit                          */
    BRV_NUMBER,    /* double without unit                         */
    BRV_EXTENT,    /* QUANTITY, or the word `endless` (INFINITY)  */
    BRV_WORD,      /* int, one of `words`                         */
    BRV_LAYER_REF, /* int, the name of a layer of the skin        */
    BRV_LIST       /* quantities: double[BRV_MOST_DEPTHS], their count in the size_t just before */
};

#define BRV_DIMENSION_LIST(X)                                                                                          \
    X(PURE)                                                                                                            \
    X(SHARE)                                                                                                           \
    X(LENGTH)                                                                                                          \
    X(TIME)                                                                                                            \
    X(ENERGY)                                                                                                          \
    X(FLUENCE)                                                                                                         \
    X(PER_LENGTH)                                                                                                      \
    X(PER_TIME)                                                                                                        \
    X(TEMPERATURE)                                                                                                     \
    X(CONDUCTIVITY)                                                                                                    \
    X(TRANSFER)                                                                                                        \
    X(DENSITY)                                                                                                         \
    X(HEAT_CAPACITY)                                                                                                   \
    X(WAITING)                                                                                                         \
    X(AREA)                                                                                                            \
    X(ANGLE)

#define BRV_DIMENSION_ENUM(name) BRV_##name,
enum brv_dimension { BRV_DIMENSION_LIST(BRV_DIMENSION_ENUM) BRV_N_DIMENSION };
#undef BRV_DIMENSION_ENUM

struct brv_key {
    enum brv_scope scope;
    const char *name;
    enum brv_key_kind kind;
    enum brv_dimension dimension;
    double least, most;          /* both allowed; for `above` the least is not */
    bool above;                  /* the value must lie above `least`           */
    double standard[BRV_N_KIND]; /* default; in layers one per kind, elsewhere [0]; NAN: none   */
    double low[BRV_N_KIND];      /* published or chosen spread of the default, laid out like it; NAN: none */
    double high[BRV_N_KIND];
    const char *const *words; /* NULL-ended, for BRV_WORD */
    size_t offset;            /* of the field inside the scope's struct */
    const char *help;         /* one line */
    const char *source;       /* key of docs/sources.md, or "-" for a choice of this project */
    const char *seen;         /* how the source was seen: seen, abstract, memory, choice */
};

extern const struct brv_key brv_keys[];
extern const size_t brv_n_keys;

/* Row number of a key, or -1. */
int brv_key_find(enum brv_scope scope, const char *name);

/* Does a value lie where its key allows one? */
bool brv_key_allows(const struct brv_key *key, double value);

/* How a value of a BRV_WORD key is written in a file. */
const char *brv_key_word(enum brv_scope scope, const char *name, int value);

/* The presence bit of row `key` inside its scope's `given`. */
unsigned brv_key_bit(size_t key);

/* The struct of a scope inside a scenario; `site` and `layer` matter for layers and grains only. */
void *brv_key_scope(struct brv_scenario *ask, enum brv_scope scope, size_t site, size_t layer);

/* Was this key given in this scope's struct? By name, for code that knows what it asks for. */
bool brv_key_given(const void *scope_struct, enum brv_scope scope, const char *name);

/* The name of a scope as it stands in a file: "light", "skin", "grain", "surface", "below", "watch". */
const char *brv_scope_name(enum brv_scope scope);

#endif
