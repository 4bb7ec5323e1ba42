#include "lesson/problems.h"

#include <stdio.h>

static const struct {
    const char *subject;
    brv_problem_make *make;
} table[BRV_N_PROBLEM] = {
    {"energy, spot, fluence", brv_problem_wide_spot},
    {"energy, spot, fluence", brv_problem_narrow_spot},
    {"energy, spot, fluence", brv_problem_multipliers},
    {"energy, spot, fluence", brv_problem_halved_spot},
    {"energy, spot, fluence", brv_problem_attenuated},
    {"pulse and power", brv_problem_power},
    {"heat and pressure", brv_problem_grain_relaxation},
    {"heat and pressure", brv_problem_how_far},
    {"heat and pressure", brv_problem_vessel},
    {"heat and pressure", brv_problem_stress},
    {"thresholds", brv_problem_wavelengths},
    {"thresholds", brv_problem_tan},
    {"covering skin", brv_problem_tilt},
    {"covering skin", brv_problem_overlap},
    {"covering skin", brv_problem_touching},
    {"covering skin", brv_problem_no_gap},
    {"covering skin", brv_problem_hand},
    {"covering skin", brv_problem_faster},
    {"covering skin", brv_problem_by_chance},
    {"covering skin", brv_problem_half_face},
    {"eyes and room", brv_problem_density},
    {"eyes and room", brv_problem_density_train},
    {"eyes and room", brv_problem_beam_distance},
    {"eyes and room", brv_problem_scattered_distance},
    {"eyes and room", brv_problem_skin_limit},
    {"errors and repetition", brv_problem_meter_and_spot},
    {"errors and repetition", brv_problem_ten_a_second},
};

brv_status brv_problems_solve(struct brv_problems *problems, bool drawn, uint32_t seed, struct brv_error *error)
{
    *problems = (struct brv_problems){.drawn = drawn, .seed = seed};
    for (size_t i = 0; i < BRV_N_PROBLEM; i++) {
        struct brv_problem *problem = &problems->problem[i];
        struct brv_problem_maker maker = {.problem = problem, .drawn = drawn, .seed = seed};
        problem->no = (int)i + 1;
        problem->subject = table[i].subject;
        const brv_status status = table[i].make(&maker, error);
        if (!status) continue;
        *problems = (struct brv_problems){.drawn = false};
        return status;
    }
    return BRV_OK;
}

const char *brv_problems_hash(char out[BRV_PROBLEMS_HASH], const struct brv_problems *problems)
{
    uint64_t hash = UINT64_C(0xcbf29ce484222325);
    for (size_t i = 0; i < BRV_N_PROBLEM; i++)
        for (const char *c = problems->problem[i].question; *c; c++)
            hash = (hash ^ (uint64_t)(unsigned char)*c) * UINT64_C(0x100000001b3);
    snprintf(out, BRV_PROBLEMS_HASH, "%016llx", (unsigned long long)hash);
    return out;
}
