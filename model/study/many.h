/* Many runs at once. Sites of all runs are shared between the threads; the numbers are the same for any count. */
#ifndef BRV_STUDY_MANY_H
#define BRV_STUDY_MANY_H

#include "run/run.h"

/* Solves n checked scenarios without their tan: result[n]. On failure all of them come back empty and error->index is
 * the number of the scenario. `control` may be NULL; its progress is not told.                                      */
brv_status brv_many_solve(struct brv_result result[], size_t n, const struct brv_scenario ask[], enum brv_detail detail,
                          const struct brv_control *control, struct brv_error *error) BRV_MUST_CHECK;

#endif
