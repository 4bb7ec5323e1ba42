/* How a function says that it failed: a status to return and an error to fill.
 * Numbers and static strings only; the words a person reads are made in cli/.                              */
#ifndef BRV_BASE_STATUS_H
#define BRV_BASE_STATUS_H

#define BRV_STATUS_LIST(X)                                                                                             \
    X(OK, "done")                                                                                                      \
    X(MISSING, "is missing")                                                                                           \
    X(RANGE, "is outside what is allowed")                                                                             \
    X(CONFLICT, "cannot stand beside another key")                                                                     \
    X(ORDER, "does not fit the rest of the scenario")                                                                  \
    X(MEMORY, "out of memory")                                                                                         \
    X(NUMERICS, "did not reach the tolerance")

#define BRV_STATUS_ENUM(name, text) BRV_##name,
typedef enum { BRV_STATUS_LIST(BRV_STATUS_ENUM) BRV_N_STATUS } brv_status;
#undef BRV_STATUS_ENUM

/* What went wrong and where. `scope`, `index`, `key` name a row of the key table (-1: none); `found`, `least`,
 * `most` are in SI; `place` is a static string: the function, or the key that conflicts.                      */
struct brv_error {
    brv_status status;
    int scope, index, key;
    double found, least, most;
    const char *place;
};

#define BRV_MUST_CHECK __attribute__((warn_unused_result))

/* Static text of a status; never NULL. */
const char *brv_status_text(brv_status status);

/* Fills `error` (when it is not NULL) with a status and the place, no key; returns the status. */
brv_status brv_error_raise(struct brv_error *error, brv_status status, const char *place);

/* The same with the number found and the bound it broke. */
brv_status brv_error_raise_number(struct brv_error *error, brv_status status, const char *place, double found,
                                  double most);

#endif
