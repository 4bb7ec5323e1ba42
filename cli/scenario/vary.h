/* What `--vary KEY=FROM..TO:N[:log]` asks for: a key and N values from FROM to TO, both of them among the values.
 *     evenly     value i = FROM + (TO - FROM) i / (N - 1)
 *     log        value i = FROM (TO / FROM)^(i / (N - 1))
 * A value is a text, as somebody would write it behind `--set KEY=`, and its number is what that text is read as: FROM
 * and TO as they were given, those between at twelve digits, in the unit of FROM and TO where they share one, else in
 * the unit that reads best. So every point of a sweep is a `--set` that anybody can repeat.                         */
#ifndef BRV_CLI_SCENARIO_VARY_H
#define BRV_CLI_SCENARIO_VARY_H

#include "scenario/fault.h"
#include "scenario/keys.h"
#include "scenario/request.h"

#include <stdbool.h>
#include <stddef.h>

enum { BRV_VARY_PATH_SIZE = 96, BRV_VARY_VALUE_SIZE = 64, BRV_VARY_MOST = 10000 };

struct brv_vary {
    char path[BRV_VARY_PATH_SIZE];                                     /* "light.spot" */
    char from_text[BRV_VARY_VALUE_SIZE], to_text[BRV_VARY_VALUE_SIZE]; /* "2 mm", each with its unit */
    int from_column, to_column, n_column;                              /* where they begin in the argument, from 1 */
    const struct brv_key *key;                                         /* NULL: no key of a scenario */
    size_t site, layer;                                                /* of its struct, as in brv_key_scope */
    double from, to;                                                   /* in SI */
    size_t n;                                                          /* values, 2 to BRV_VARY_MOST */
    bool log;                                                          /* even steps of the logarithm */
};

/* Splits an argument and looks its key up; the layers are those of `names`. Only the form is looked at here: the values
 * are still texts. False with one fault, at the place `--vary KEY`.                                                */
bool brv_vary_split(struct brv_vary *vary, const char *argument, const struct brv_request *names,
                    struct brv_faults *faults);

/* Reads the numbers of FROM and TO, whose texts a scenario took: the order of the two, what a logarithm wants, the count.
 * False with faults.                                                                                              */
bool brv_vary_measure(struct brv_vary *vary, struct brv_faults *faults);

/* Text of value i, and its number in SI. Returns `out`. */
const char *brv_vary_text(char out[BRV_VARY_VALUE_SIZE], const struct brv_vary *vary, size_t i);
double brv_vary_value(const struct brv_vary *vary, size_t i);

/* The value that a scenario has for this key; NAN when it is none. */
double brv_vary_own(const struct brv_vary *vary, const struct brv_scenario *ask);

/* The unit that FROM and TO share, else the one in which the value between them reads best; NULL for plain numbers. */
const struct brv_unit *brv_vary_unit(const struct brv_vary *vary);

/* "--vary light.spot". Returns `out`. */
enum { BRV_VARY_PLACE_SIZE = BRV_SHOWN_SIZE + 8 };
const char *brv_vary_place(char out[BRV_VARY_PLACE_SIZE], const char *path);

#endif
