#include "study/indices.h"

#include "base/array.h"

#include <gsl/gsl_multifit.h>

#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#define DRAWS_A_TERM 3
#define RARE         1.0 /* chance of one in some twelve, by the tail of the normal distribution, rather than one in four */
#define DEPENDENT    1e-6 /* of a term's own square: less is left of it beside those taken, and it is none of its own */
#define ONE_LEFT     1e-12 /* leverage this close to 1: the draw is met by the fit whatever it is */
#define ALL_TOLD     1e-24 /* of the square of y: what is left is rounding */

struct term {
    size_t i, j; /* inputs; i < j in a product */
    size_t p, q; /* degrees; q 0: u_i alone */
};

struct work {
    const struct brv_indices_ask *ask;
    size_t n_candidate, n_main, n_taken, most;
    struct term *candidate; /* [n_candidate] */
    double *square;         /* [n_candidate] of its departure from its mean; 0: taken or of no use */
    size_t *taken;          /* [most] */
    double *shape;          /* [n_input][degree][n_draw] Legendre polynomials at the draws */
    double *base;           /* [most][n_draw] orthonormal, beside the constant */
    double *rest;           /* [n_draw] of y */
    double *leverage;       /* [n_draw] */
    double *column;         /* [n_draw] */
};

/* ---- polynomials ---- */

/* Orthonormal on 0 to 1, degrees 1 to `degree`: (k + 1) L_(k+1) = (2k + 1) x L_k - k L_(k-1) at x = 2u - 1. */
static void write_shapes(double shape[], size_t stride, size_t degree, double u)
{
    const double x = 2.0 * u - 1.0;
    double before = 1.0, here = x;
    for (size_t k = 1; k <= degree; k++) {
        const double order = (double)k, next = ((2.0 * order + 1.0) * x * here - order * before) / (order + 1.0);
        shape[(k - 1) * stride] = sqrt(2.0 * order + 1.0) * here;
        before = here;
        here = next;
    }
}

static size_t degree_of(const struct brv_indices_ask *ask)
{
    return ask->degree > ask->cross ? ask->degree : ask->cross;
}

static const double *shape_of(const struct work *work, size_t input, size_t degree)
{
    return work->shape + (input * degree_of(work->ask) + degree - 1) * work->ask->n_draw;
}

static void lay_column(double column[], const struct work *work, const struct term *term)
{
    const double *one = shape_of(work, term->i, term->p), *other = term->q ? shape_of(work, term->j, term->q) : NULL;
    for (size_t k = 0; k < work->ask->n_draw; k++) column[k] = other ? one[k] * other[k] : one[k];
}

/* ---- candidates ---- */

static size_t pairs_of_degrees(size_t cross)
{
    return cross < 2 ? 0 : cross * (cross - 1) / 2;
}

static void list_candidates(struct work *work)
{
    const struct brv_indices_ask *ask = work->ask;
    size_t n = 0;
    for (size_t i = 0; i < ask->n_input; i++)
        for (size_t p = 1; p <= ask->degree; p++) work->candidate[n++] = (struct term){i, i, p, 0};
    work->n_main = n;
    for (size_t i = 0; i < ask->n_input; i++)
        for (size_t j = i + 1; j < ask->n_input; j++)
            for (size_t p = 1; p + 1 <= ask->cross; p++)
                for (size_t q = 1; p + q <= ask->cross; q++) work->candidate[n++] = (struct term){i, j, p, q};
    assert(n == work->n_candidate);
}

static double sum_of(const double value[], size_t n)
{
    double sum = 0.0;
    for (size_t k = 0; k < n; k++) sum += value[k];
    return sum;
}

static double product_of(const double one[], const double other[], size_t n)
{
    double sum = 0.0;
    for (size_t k = 0; k < n; k++) sum += one[k] * other[k];
    return sum;
}

static void subtract_mean(double value[], size_t n)
{
    const double mean = sum_of(value, n) / (double)n;
    for (size_t k = 0; k < n; k++) value[k] -= mean;
}

static void measure_candidates(struct work *work)
{
    const size_t n = work->ask->n_draw;
    for (size_t c = 0; c < work->n_candidate; c++) {
        lay_column(work->column, work, &work->candidate[c]);
        subtract_mean(work->column, n);
        work->square[c] = product_of(work->column, work->column, n);
    }
}

/* ---- one term after the other ---- */

/* What the best of so many terms of chance would explain of the rest. */
static double by_chance(const struct work *work, size_t candidate)
{
    const bool main = candidate < work->n_main;
    const size_t many = main ? work->n_main : work->n_candidate - work->n_main;
    return 2.0 * (log(fmax((double)many, 2.0)) + RARE) / (double)(work->ask->n_draw - work->n_taken - 1);
}

/* The candidate that explains most of the rest, beside chance; n_candidate: none does. */
static size_t best_candidate(const struct work *work, double rest_square)
{
    size_t best = work->n_candidate;
    double most = 1.0;
    for (size_t c = 0; c < work->n_candidate; c++) {
        if (!(work->square[c] > 0.0)) continue;
        lay_column(work->column, work, &work->candidate[c]);
        const double along = product_of(work->column, work->rest, work->ask->n_draw);
        const double worth = along * along / (work->square[c] * rest_square) / by_chance(work, c);
        if (worth > most) {
            most = worth;
            best = c;
        }
    }
    return best;
}

/* Puts a candidate beside those taken and takes its share from the rest; false when it is none of its own. */
static bool take(struct work *work, size_t candidate)
{
    const size_t n = work->ask->n_draw;
    double *own = work->base + work->n_taken * n;
    const double square = work->square[candidate];
    lay_column(own, work, &work->candidate[candidate]);
    subtract_mean(own, n);
    for (int again = 0; again < 2; again++) /* once more for what rounding left */
        for (size_t t = 0; t < work->n_taken; t++) {
            const double *other = work->base + t * n, along = product_of(own, other, n);
            for (size_t k = 0; k < n; k++) own[k] -= along * other[k];
        }
    const double left = product_of(own, own, n), length = sqrt(left);
    work->square[candidate] = 0.0;
    if (left < DEPENDENT * square) return false;
    for (size_t k = 0; k < n; k++) own[k] /= length;
    const double along = product_of(own, work->rest, n);
    for (size_t k = 0; k < n; k++) {
        work->rest[k] -= along * own[k];
        work->leverage[k] += own[k] * own[k];
    }
    work->taken[work->n_taken++] = candidate;
    return true;
}

/* Sum of squares of what each draw is off when the fit is made without it. */
static double left_out_error(const struct work *work)
{
    double sum = 0.0;
    for (size_t k = 0; k < work->ask->n_draw; k++) {
        const double free = 1.0 - work->leverage[k];
        const double off = free > ONE_LEFT ? work->rest[k] / free : (double)INFINITY;
        sum += off * off;
    }
    return sum;
}

/* Takes terms while they are worth it; returns how many of them make the least error, and that error. */
static size_t choose_terms(struct work *work, double *error_left)
{
    const size_t n = work->ask->n_draw;
    const double whole = product_of(work->rest, work->rest, n);
    size_t best = 0;
    *error_left = left_out_error(work);
    while (work->n_taken < work->most) {
        const double square = product_of(work->rest, work->rest, n);
        if (square <= ALL_TOLD * whole) break;
        const size_t candidate = best_candidate(work, square);
        if (candidate == work->n_candidate) break;
        if (!take(work, candidate)) continue;
        const double error = left_out_error(work);
        if (error < *error_left) {
            *error_left = error;
            best = work->n_taken;
        }
    }
    return best;
}

/* ---- the fit, and what it says ---- */

struct least_squares {
    gsl_matrix *x, *covariance;
    gsl_vector *c;
    gsl_multifit_linear_workspace *space;
};

static void free_squares(struct least_squares *squares)
{
    if (squares->x) gsl_matrix_free(squares->x);
    if (squares->covariance) gsl_matrix_free(squares->covariance);
    if (squares->c) gsl_vector_free(squares->c);
    if (squares->space) gsl_multifit_linear_free(squares->space);
}

static brv_status fit_squares(struct least_squares *squares, struct work *work, size_t n_term, struct brv_error *error)
{
    const size_t n = work->ask->n_draw;
    *squares = (struct least_squares){gsl_matrix_alloc(n, n_term + 1), gsl_matrix_alloc(n_term + 1, n_term + 1),
                                      gsl_vector_alloc(n_term + 1), gsl_multifit_linear_alloc(n, n_term + 1)};
    if (!squares->x || !squares->covariance || !squares->c || !squares->space)
        return brv_error_raise(error, BRV_MEMORY, "indices");
    for (size_t t = 0; t <= n_term; t++) {
        if (t) lay_column(work->column, work, &work->candidate[work->taken[t - 1]]);
        for (size_t k = 0; k < n; k++) gsl_matrix_set(squares->x, k, t, t ? work->column[k] : 1.0);
    }
    double rest;
    const gsl_vector_const_view y = gsl_vector_const_view_array(work->ask->y, n);
    return gsl_multifit_linear(squares->x, &y.vector, squares->c, squares->covariance, &rest, squares->space)
               ? brv_error_raise(error, BRV_NUMERICS, "indices")
               : BRV_OK;
}

static void share_out(double first[], double total[], struct brv_indices_fit *fit, const struct work *work,
                      const gsl_vector *c)
{
    for (size_t t = 0; t < fit->n_term; t++) {
        const struct term *term = &work->candidate[work->taken[t]];
        const double square = gsl_vector_get(c, t + 1) * gsl_vector_get(c, t + 1);
        fit->variance += square;
        total[term->i] += square;
        if (term->q)
            total[term->j] += square;
        else
            first[term->i] += square;
    }
    for (size_t i = 0; i < work->ask->n_input && fit->variance > 0.0; i++) {
        first[i] /= fit->variance;
        total[i] /= fit->variance;
    }
}

static brv_status fit_terms(double first[], double total[], struct brv_indices_fit *fit, struct work *work,
                            struct brv_error *error)
{
    const size_t n = work->ask->n_draw;
    const size_t degree = degree_of(work->ask);
    for (size_t i = 0; i < work->ask->n_input; i++)
        for (size_t k = 0; k < n; k++)
            write_shapes(work->shape + i * degree * n + k, n, degree, work->ask->u[k * work->ask->n_input + i]);
    list_candidates(work);
    measure_candidates(work);
    memcpy(work->rest, work->ask->y, n * sizeof *work->rest);
    subtract_mean(work->rest, n);
    for (size_t k = 0; k < n; k++) work->leverage[k] = 1.0 / (double)n;
    const double alone = left_out_error(work);
    if (!(alone > 0.0)) return BRV_OK;

    double left;
    struct least_squares squares;
    fit->n_term = choose_terms(work, &left);
    fit->q2 = 1.0 - left / alone;
    const brv_status status = fit_squares(&squares, work, fit->n_term, error);
    if (!status) share_out(first, total, fit, work, squares.c);
    free_squares(&squares);
    return status;
}

brv_status brv_indices_solve(double first[], double total[], struct brv_indices_fit *fit,
                             const struct brv_indices_ask *ask, struct brv_error *error)
{
    assert(ask->degree >= 1 && degree_of(ask) <= BRV_MOST_DEGREE && ask->n_draw >= 2 && ask->n_input >= 1);
    const size_t n = ask->n_draw, n_input = ask->n_input;
    struct work work = {.ask = ask, .most = n / DRAWS_A_TERM};
    work.n_candidate = n_input * ask->degree + n_input * (n_input - 1) / 2 * pairs_of_degrees(ask->cross);
    work.candidate = calloc(work.n_candidate, sizeof *work.candidate);
    work.taken = calloc(work.most + 1, sizeof *work.taken);
    work.square = brv_array_new(work.n_candidate);
    work.shape = brv_array_new(n_input * degree_of(ask) * n);
    work.base = brv_array_new((work.most + 1) * n);
    work.rest = brv_array_new(n);
    work.leverage = brv_array_new(n);
    work.column = brv_array_new(n);

    *fit = (struct brv_indices_fit){.q2 = (double)NAN};
    for (size_t i = 0; i < n_input; i++) first[i] = total[i] = 0.0;
    const bool room = work.candidate && work.taken && work.square && work.shape && work.base && work.rest &&
                      work.leverage && work.column;
    const brv_status status =
        room ? fit_terms(first, total, fit, &work, error) : brv_error_raise(error, BRV_MEMORY, "indices");
    free(work.candidate);
    free(work.taken);
    free(work.square);
    free(work.shape);
    free(work.base);
    free(work.rest);
    free(work.leverage);
    free(work.column);
    return status;
}
