#include "light/ripple.h"

#include "base/array.h"
#include "light/face.h"
#include "light/harmonics.h"
#include "light/linear.h"
#include "light/wave.h"

#include <gsl/gsl_blas.h>
#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum { N = BRV_N_ODD, N_TWICE = 2 * BRV_N_ODD, N_AND_BEAM = BRV_N_ODD + 1, MOST_MEDIA = 16 };

/* Share of the largest extinction that every order above 0 loses at least, and the least that counts as the largest
 * [1/m]: a clear layer is told from neither. */
static const double LEAST_LOSS = 1e-4;
static const double LEAST_EXTINCTION = 1.0;

/* How the layers answer at one k. In layer i and below it, for the amplitudes `down` of i: up = back down, and in the
 * layer below down = onward down. Row-major; one more column is what the beam adds. */
struct answer {
    double back[N * N_AND_BEAM], onward[N * N_AND_BEAM];
};

/* The conditions of one side of a face as they act on the layer there: rows by modes that fade downwards, with the glow
 * as one more column, and upwards. */
struct side {
    double down[N_TWICE * N_AND_BEAM], up[N_TWICE * N];
};

struct brv_ripple_stack {
    struct brv_harmonics shapes;
    double top[MOST_MEDIA + 1];
    struct brv_wave wave[MOST_MEDIA];
    struct brv_face face[MOST_MEDIA + 1];
    struct answer answer[MOST_MEDIA];
    struct side above, below; /* room to work in: 17 kB would be much of the stack of a thread */
    double matrix[N_TWICE * N_TWICE];
};

/* Build */

static void build_waves(struct brv_ripple *ripple, const struct brv_medium *medium)
{
    struct brv_ripple_stack *stack = ripple->stack;
    double most = LEAST_EXTINCTION;
    for (size_t i = 0; i < ripple->n_medium; i++) most = fmax(most, medium[i].absorption + medium[i].scattering);
    for (size_t i = 0; i < ripple->n_medium; i++) {
        stack->top[i + 1] = stack->top[i] + medium[i].thickness;
        brv_wave_build(&stack->wave[i], &medium[i], LEAST_LOSS * most);
    }
}

static brv_status build_faces(struct brv_ripple *ripple, double outside_index, double below_index,
                              struct brv_error *error)
{
    struct brv_ripple_stack *stack = ripple->stack;
    const size_t n = ripple->n_medium;
    brv_status status = brv_face_step(&stack->face[0], &stack->shapes, outside_index, stack->wave[0].leg.index, error);
    for (size_t i = 1; i < n && !status; i++) {
        const double above = stack->wave[i - 1].leg.index, below = stack->wave[i].leg.index;
        if (above == below)
            brv_face_join(&stack->face[i], &stack->shapes);
        else
            status = brv_face_step(&stack->face[i], &stack->shapes, above, below, error);
    }
    if (status || isinf(stack->wave[n - 1].medium.thickness)) return status;
    return brv_face_step(&stack->face[n], &stack->shapes, stack->wave[n - 1].leg.index, below_index, error);
}

static void trace_beam(struct brv_ripple *ripple, double outside_index, double below_index)
{
    struct brv_direct_leg leg[MOST_MEDIA];
    for (size_t i = 0; i < ripple->n_medium; i++) leg[i] = ripple->stack->wave[i].leg;
    brv_direct_trace(leg, ripple->n_medium, outside_index, below_index, 1.0);
    for (size_t i = 0; i < ripple->n_medium; i++) ripple->stack->wave[i].leg = leg[i];
}

brv_status brv_ripple_build(struct brv_ripple *ripple, const struct brv_medium *medium, size_t n_medium,
                            double outside_index, double below_index, struct brv_error *error)
{
    assert(n_medium >= 1 && n_medium <= MOST_MEDIA);
    *ripple = (struct brv_ripple){.n_medium = n_medium};
    ripple->stack = calloc(1, sizeof *ripple->stack);
    if (!ripple->stack) return brv_error_raise(error, BRV_MEMORY, "brv_ripple_build");
    brv_status status = brv_harmonics_build(&ripple->stack->shapes, error);
    build_waves(ripple, medium);
    if (!status) status = build_faces(ripple, outside_index, below_index, error);
    if (!status) trace_beam(ripple, outside_index, below_index);

    if (status) brv_ripple_free(ripple);
    return status;
}

/* Solve */

static double dot(const double *a, const double *b, size_t n)
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) sum += a[i] * b[i];
    return sum;
}

/* to += left right, with the rows of `to` and `right` `columns` long. */
static void add_product(double *to, const double *left, const double *right, size_t rows, size_t inner, size_t columns)
{
    gsl_matrix_const_view a = gsl_matrix_const_view_array(left, rows, inner);
    gsl_matrix_const_view b = gsl_matrix_const_view_array(right, inner, columns);
    gsl_matrix_view product = gsl_matrix_view_array(to, rows, columns);
    gsl_blas_dgemm(CblasNoTrans, CblasNoTrans, 1.0, &a.matrix, &b.matrix, 1.0, &product.matrix);
}

/* The light at one face of a layer seen through `rows` conditions. Amplitudes belong to the face where a mode starts:
 * at the other one it is weaker by `through`. */
static void look(struct side *side, const struct brv_wave *wave, bool at_bottom, const double *even, const double *odd,
                 size_t rows)
{
    double from_even[N_TWICE * N] = {0}, from_odd[N_TWICE * N] = {0};
    const double t = at_bottom ? wave->medium.thickness : 0.0;
    const double falling = brv_wave_beam_down(wave, t), rising = brv_wave_beam_up(wave, t);
    add_product(from_even, even, wave->modes.even, rows, BRV_N_EVEN, N);
    add_product(from_odd, odd, wave->modes.odd, rows, BRV_N_ODD, N);
    for (size_t row = 0; row < rows; row++) {
        double *down = side->down + row * N_AND_BEAM, *up = side->up + row * N;
        for (size_t mode = 0; mode < N; mode++) {
            const double through = wave->through[mode];
            const double sum = from_even[row * N + mode], difference = from_odd[row * N + mode];
            down[mode] = (at_bottom ? through : 1.0) * (sum + difference);
            up[mode] = (at_bottom ? 1.0 : through) * (sum - difference);
        }
        down[N] = (falling + rising) * dot(even + row * BRV_N_EVEN, wave->glow_even, BRV_N_EVEN) +
                  (falling - rising) * dot(odd + row * BRV_N_ODD, wave->glow_odd, BRV_N_ODD);
    }
}

/* `down` comes to hold all that the layer and what lies below it do at its upper face. */
static void close_below(struct side *side, const struct answer *answer, size_t rows)
{
    add_product(side->down, side->up, answer->back, rows, N, N_AND_BEAM);
}

static brv_status answer_bottom(struct brv_ripple_stack *stack, size_t last, struct brv_error *error)
{
    const struct brv_face *face = &stack->face[last + 1];
    struct answer *answer = &stack->answer[last];
    struct side side;
    memset(answer, 0, sizeof *answer);
    if (isinf(stack->wave[last].medium.thickness)) return BRV_OK;
    look(&side, &stack->wave[last], true, face->upper_even + N * BRV_N_EVEN, face->upper_odd + N * BRV_N_ODD, N);
    for (size_t i = 0; i < N * N_AND_BEAM; i++) answer->back[i] = -side.down[i];
    return brv_linear_solve(side.up, answer->back, N, N_AND_BEAM, error);
}

/* Unknown are the light up in layer i and down in the layer below; given is the light down in i. */
static brv_status answer_layer(struct brv_ripple_stack *stack, size_t i, struct brv_error *error)
{
    const struct brv_face *face = &stack->face[i + 1];
    struct answer *answer = &stack->answer[i];
    struct side *above = &stack->above, *below = &stack->below;
    double *matrix = stack->matrix;
    look(above, &stack->wave[i], true, face->upper_even, face->upper_odd, N_TWICE);
    look(below, &stack->wave[i + 1], false, face->lower_even, face->lower_odd, N_TWICE);
    close_below(below, &stack->answer[i + 1], N_TWICE);
    for (size_t row = 0; row < N_TWICE; row++) {
        memcpy(matrix + row * N_TWICE, above->up + row * N, N * sizeof *matrix);
        memcpy(matrix + row * N_TWICE + N, below->down + row * N_AND_BEAM, N * sizeof *matrix);
        above->down[row * N_AND_BEAM + N] += below->down[row * N_AND_BEAM + N];
        for (size_t column = 0; column < N_AND_BEAM; column++) above->down[row * N_AND_BEAM + column] *= -1.0;
    }
    const brv_status status = brv_linear_solve(matrix, above->down, N_TWICE, N_AND_BEAM, error);
    memcpy(answer->back, above->down, sizeof answer->back);
    memcpy(answer->onward, above->down + N * N_AND_BEAM, sizeof answer->onward);
    return status;
}

/* Nothing comes down on the surface but the beam. */
static brv_status light_surface(struct brv_ripple_stack *stack, struct brv_error *error)
{
    struct brv_wave *wave = &stack->wave[0];
    const struct brv_face *face = &stack->face[0];
    struct side below;
    double matrix[N * N];
    look(&below, wave, false, face->lower_even, face->lower_odd, N);
    close_below(&below, &stack->answer[0], N);
    for (size_t row = 0; row < N; row++) {
        memcpy(matrix + row * N, below.down + row * N_AND_BEAM, N * sizeof *matrix);
        wave->down[row] = -below.down[row * N_AND_BEAM + N];
    }
    return brv_linear_solve(matrix, wave->down, N, 1, error);
}

static void apply(double *to, const double *answer, const double *down)
{
    for (size_t row = 0; row < N; row++)
        to[row] = dot(answer + row * N_AND_BEAM, down, N) + answer[row * N_AND_BEAM + N];
}

static void light_layers(struct brv_ripple *ripple)
{
    for (size_t i = 0; i < ripple->n_medium; i++) {
        struct brv_wave *wave = &ripple->stack->wave[i];
        apply(wave->up, ripple->stack->answer[i].back, wave->down);
        if (i + 1 < ripple->n_medium) apply(wave[1].down, ripple->stack->answer[i].onward, wave->down);
    }
}

brv_status brv_ripple_solve(struct brv_ripple *ripple, double frequency, struct brv_error *error)
{
    struct brv_ripple_stack *stack = ripple->stack;
    brv_status status = BRV_OK;
    for (size_t i = 0; i < ripple->n_medium && !status; i++)
        status = brv_wave_fill(&stack->wave[i], &stack->shapes, frequency, error);
    if (!status) status = answer_bottom(stack, ripple->n_medium - 1, error);
    for (size_t i = ripple->n_medium - 1; i-- > 0 && !status;) status = answer_layer(stack, i, error);
    if (!status) status = light_surface(stack, error);
    if (!status) light_layers(ripple);
    return status;
}

/* Look */

static const struct brv_wave *locate(const struct brv_ripple *ripple, double depth, double *t)
{
    const struct brv_ripple_stack *stack = ripple->stack;
    const size_t i = brv_array_interval(stack->top, ripple->n_medium, depth);
    *t = fmin(fmax(depth - stack->top[i], 0.0), stack->wave[i].medium.thickness);
    return &stack->wave[i];
}

double brv_ripple_fluence(const struct brv_ripple *ripple, double depth)
{
    double t;
    const struct brv_wave *wave = locate(ripple, depth, &t);
    return brv_wave_fluence(wave, t);
}

double brv_ripple_direct(const struct brv_ripple *ripple, double depth)
{
    double t;
    const struct brv_wave *wave = locate(ripple, depth, &t);
    return brv_direct_down(&wave->leg, wave->extinction * t) + brv_direct_up(&wave->leg, wave->extinction * t);
}

double brv_ripple_slowest(const struct brv_ripple *ripple)
{
    double slowest = INFINITY;
    for (size_t i = 0; i < ripple->n_medium; i++) {
        const double *loss = ripple->stack->wave[i].loss;
        slowest = fmin(slowest, sqrt(loss[0] * loss[1]));
    }
    return slowest;
}

double brv_ripple_fastest(const struct brv_ripple *ripple)
{
    double fastest = 0.0;
    for (size_t i = 0; i < ripple->n_medium; i++) {
        const struct brv_wave *wave = &ripple->stack->wave[i];
        fastest = fmax(fastest, wave->extinction * -expm1(-wave->leg.depth));
    }
    return fastest;
}

void brv_ripple_free(struct brv_ripple *ripple)
{
    free(ripple->stack);
    *ripple = (struct brv_ripple){0};
}
