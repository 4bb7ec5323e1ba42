/* CVODE and ARKODE, with a band matrix, its exact Jacobian, and a new start at the end of the pulse.
 * Options: error weights relative and absolute or absolute alone; for ARKODE also the order and how it interpolates. */
#include "bench.h"

#ifdef HAVE_SUNDIALS
#include <arkode/arkode_arkstep.h>
#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <stdlib.h>
#include <sunlinsol/sunlinsol_band.h>
#include <sunmatrix/sunmatrix_band.h>

enum { MOST_STEPS = 100000 };

struct kept {
    const struct problem *problem;
    bool heated;
    SUNContext context;
    N_Vector y;
    SUNMatrix matrix;
    SUNLinearSolver solver;
    void *integrator;
};

static int change(realtype t, N_Vector y, N_Vector dy, void *user)
{
    const struct kept *kept = user;
    const struct problem *p = kept->problem;
    const double *v = N_VGetArrayPointer(y);
    double *d = N_VGetArrayPointer(dy);
    const size_t n = p->chain->n;
    (void)t;
    d[0] = p->own[0] * v[0] + p->above[0] * v[1];
    for (size_t i = 1; i + 1 < n; i++) d[i] = p->below[i] * v[i - 1] + p->own[i] * v[i] + p->above[i] * v[i + 1];
    d[n - 1] = p->below[n - 1] * v[n - 2] + p->own[n - 1] * v[n - 1];
    if (kept->heated)
        for (size_t i = 0; i < n; i++) d[i] += p->rate[i];
    return 0;
}

static int slope(realtype t, N_Vector y, N_Vector dy, SUNMatrix matrix, void *user, N_Vector a, N_Vector b, N_Vector c)
{
    const struct problem *p = ((const struct kept *)user)->problem;
    const sunindextype n = (sunindextype)p->chain->n;
    (void)t, (void)y, (void)dy, (void)a, (void)b, (void)c;
    for (sunindextype i = 0; i < n; i++) {
        SM_ELEMENT_B(matrix, i, i) = p->own[i];
        if (i > 0) SM_ELEMENT_B(matrix, i, i - 1) = p->below[i];
        if (i + 1 < n) SM_ELEMENT_B(matrix, i, i + 1) = p->above[i];
    }
    return 0;
}

static struct kept *open_either(const struct problem *problem)
{
    struct kept *kept = calloc(1, sizeof *kept);
    const sunindextype n = (sunindextype)problem->chain->n;
    kept->problem = problem;
    if (SUNContext_Create(NULL, &kept->context)) abort();
    kept->y = N_VNew_Serial(n, kept->context);
    kept->matrix = SUNBandMatrix(n, 1, 1, kept->context);
    kept->solver = SUNLinSol_Band(kept->y, kept->matrix, kept->context);
    return kept;
}

static void close_rest(struct kept *kept)
{
    SUNLinSolFree(kept->solver);
    SUNMatDestroy(kept->matrix);
    N_VDestroy(kept->y);
    SUNContext_Free(&kept->context);
    free(kept);
}

/* ---- CVODE ---- */

static void *open_cvode(const struct problem *problem)
{
    struct kept *kept = open_either(problem);
    kept->integrator = CVodeCreate(CV_BDF, kept->context);
    CVodeInit(kept->integrator, change, 0.0, kept->y);
    CVodeSetUserData(kept->integrator, kept);
    CVodeSStolerances(kept->integrator, 1e-4, 1e-4);
    CVodeSetLinearSolver(kept->integrator, kept->solver, kept->matrix);
    CVodeSetJacFn(kept->integrator, slope);
    CVodeSetMaxNumSteps(kept->integrator, MOST_STEPS);
    return kept;
}

static bool cvode_to(struct kept *kept, const double time[], int n, int first, double value[])
{
    for (int i = 0; i < n; i++) {
        double now;
        if (CVode(kept->integrator, time[i], kept->y, &now, CV_NORMAL) < 0) return false;
        read_state(kept->problem, N_VGetArrayPointer(kept->y), first + i, value);
    }
    return true;
}

static bool run_cvode(void *state, const struct problem *problem, int option, double tolerance, double value[])
{
    struct kept *kept = state;
    N_VConst(0.0, kept->y);
    CVodeSStolerances(kept->integrator, option ? 0.0 : tolerance, tolerance * problem->scale);
    kept->heated = true;
    CVodeReInit(kept->integrator, 0.0, kept->y);
    CVodeSetStopTime(kept->integrator, problem->width);
    if (!cvode_to(kept, problem->in_pulse, IN_PULSE, 0, value)) return false;
    kept->heated = false;
    CVodeReInit(kept->integrator, 0.0, kept->y);
    CVodeSetStopTime(kept->integrator, problem->after[AFTER - 1]);
    return cvode_to(kept, problem->after, AFTER, IN_PULSE, value);
}

static void close_cvode(void *state)
{
    struct kept *kept = state;
    CVodeFree(&kept->integrator);
    close_rest(kept);
}

const struct method by_cvode = {"SUNDIALS CVODE", 2, 1e-1, 1e-8, open_cvode, run_cvode, close_cvode};

/* ---- ARKODE ---- */

static void *open_arkode(const struct problem *problem)
{
    return open_either(problem);
}

static bool arkode_to(struct kept *kept, const double time[], int n, int first, double value[])
{
    for (int i = 0; i < n; i++) {
        double now;
        if (ARKStepEvolve(kept->integrator, time[i], kept->y, &now, ARK_NORMAL) < 0) return false;
        read_state(kept->problem, N_VGetArrayPointer(kept->y), first + i, value);
    }
    return true;
}

/* A change of order wants a new integrator. A program would keep it, but its making is a few microseconds. */
static void set_arkode(struct kept *kept, int option, double tolerance)
{
    if (kept->integrator) ARKStepFree(&kept->integrator);
    kept->integrator = ARKStepCreate(NULL, change, 0.0, kept->y, kept->context);
    ARKStepSetUserData(kept->integrator, kept);
    ARKStepSetOrder(kept->integrator, 2 + option % 4);
    ARKStepSetInterpolantType(kept->integrator, option / 4 % 2 ? ARK_INTERP_LAGRANGE : ARK_INTERP_HERMITE);
    ARKStepSStolerances(kept->integrator, option / 8 ? 0.0 : tolerance, tolerance * kept->problem->scale);
    ARKStepSetLinear(kept->integrator, 0);
    ARKStepSetLinearSolver(kept->integrator, kept->solver, kept->matrix);
    ARKStepSetJacFn(kept->integrator, slope);
    ARKStepSetMaxNumSteps(kept->integrator, MOST_STEPS);
}

static bool run_arkode(void *state, const struct problem *problem, int option, double tolerance, double value[])
{
    struct kept *kept = state;
    N_VConst(0.0, kept->y);
    kept->heated = true;
    set_arkode(kept, option, tolerance);
    ARKStepSetStopTime(kept->integrator, problem->width);
    if (!arkode_to(kept, problem->in_pulse, IN_PULSE, 0, value)) return false;
    kept->heated = false;
    ARKStepReInit(kept->integrator, NULL, change, 0.0, kept->y);
    ARKStepSetStopTime(kept->integrator, problem->after[AFTER - 1]);
    return arkode_to(kept, problem->after, AFTER, IN_PULSE, value);
}

static void close_arkode(void *state)
{
    struct kept *kept = state;
    ARKStepFree(&kept->integrator);
    close_rest(kept);
}

const struct method by_arkode = {"SUNDIALS ARKODE", 16, 1e-1, 1e-8, open_arkode, run_arkode, close_arkode};
#else
typedef int without_sundials;
#endif
