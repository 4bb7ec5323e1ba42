/* The number problems of a course, 27 of them, in one table; see lesson/problem.h.
 * Parts: problems_light, problems_heat, problems_cover, problems_room. */
#ifndef BRV_CLI_LESSON_PROBLEMS_H
#define BRV_CLI_LESSON_PROBLEMS_H

#include "base/status.h"
#include "lesson/problem.h"

enum { BRV_N_PROBLEM = 27 };

struct brv_problems {
    bool drawn;
    uint32_t seed;
    struct brv_problem problem[BRV_N_PROBLEM];
};

/* A whole sheet: with the printed numbers, or with those of a seed (any, 0 too). BRV_MEMORY or BRV_NUMERICS on failure,
 * and then the sheet is empty. Nothing is owned.                                                                     */
brv_status brv_problems_solve(struct brv_problems *problems, bool drawn, uint32_t seed,
                              struct brv_error *error) BRV_MUST_CHECK;

/* FNV-1a, 64 bit, over the questions: the same sheet, the same sixteen digits. Returns `out`. */
enum { BRV_PROBLEMS_HASH = 17 };
const char *brv_problems_hash(char out[BRV_PROBLEMS_HASH], const struct brv_problems *problems);

/* One problem each, in the order of the sheet. */
typedef brv_status brv_problem_make(struct brv_problem_maker *maker, struct brv_error *error);

brv_problem_make brv_problem_wide_spot, brv_problem_narrow_spot, brv_problem_multipliers, brv_problem_halved_spot,
    brv_problem_attenuated, brv_problem_power, brv_problem_half_face;
brv_problem_make brv_problem_grain_relaxation, brv_problem_how_far, brv_problem_vessel, brv_problem_stress,
    brv_problem_wavelengths, brv_problem_tan, brv_problem_ten_a_second;
brv_problem_make brv_problem_tilt, brv_problem_overlap, brv_problem_touching, brv_problem_no_gap, brv_problem_hand,
    brv_problem_faster, brv_problem_by_chance, brv_problem_meter_and_spot;
brv_problem_make brv_problem_density, brv_problem_density_train, brv_problem_beam_distance,
    brv_problem_scattered_distance, brv_problem_skin_limit;

#endif
