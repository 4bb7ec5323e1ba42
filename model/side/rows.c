#include "side/rows.h"

#include "base/array.h"
#include "base/constants.h"
#include "scenario/scenario.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_sort.h>

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#define NOTHING  1e-12 /* of the skin: rounding [1] */
#define EVEN     1e-9  /* a ripple of the dose below this is none [1] */
#define FAINT    40.0  /* exp(-FAINT) of a pulse, or of a wave, is nothing */
#define TOUCHING 1e-9  /* of a spot: rounding of places that just touch [1] */

enum {
    N_LINE = 16384,
    N_STEP = 400,
    N_ACROSS = 96,
    N_DOWN = 192 /* of a cell's quarter; both hold its deepest places */
};

struct brv_rows brv_rows_laid(int lattice, double spot, double overlap)
{
    const double along = (1.0 - overlap) * spot;
    if (lattice == BRV_SQUARE_LATTICE) return (struct brv_rows){along, along, 0.0};
    return (struct brv_rows){along, 0.5 * sqrt(3.0) * along, 0.5 * along};
}

struct brv_rows brv_rows_hurried(const struct brv_rows *rows, double factor)
{
    return (struct brv_rows){rows->along / factor, rows->pitch, rows->aside};
}

double brv_rows_density(const struct brv_rows *rows)
{
    return 1.0 / (rows->along * rows->pitch);
}

double brv_rows_hits(const struct brv_rows *rows, double spot)
{
    return 0.25 * BRV_PI * spot * spot * brv_rows_density(rows);
}

size_t brv_rows_along(const struct brv_rows *rows, double spot)
{
    return (size_t)ceil(spot / rows->along * (1.0 - TOUCHING));
}

/* ---- at one place ---- */

/* Where a row begins to count, seen from x. */
static double offset_of(const struct brv_rows *rows, double x, double j)
{
    const double from = (j * rows->aside - x) / rows->along;
    return rows->along * (from - floor(from));
}

size_t brv_rows_hits_at(const struct brv_rows *rows, double spot, double x, double y)
{
    const double radius = 0.5 * spot * (1.0 + TOUCHING);
    size_t hits = 0;
    for (double j = ceil((y - radius) / rows->pitch); j * rows->pitch <= y + radius; j += 1.0) {
        const double half = sqrt(fmax(radius * radius - gsl_pow_2(y - j * rows->pitch), 0.0));
        const double offset = offset_of(rows, x, j);
        hits += (size_t)(floor((half - offset) / rows->along) + floor((half + offset) / rows->along) + 1.0);
    }
    return hits;
}

/* One row's part of a gaussian sum: exp(-8 x^2/D^2) over its centres. */
static double row_sum(const struct brv_rows *rows, double spot, double offset)
{
    const double reach = spot * sqrt(FAINT / 8.0);
    double sum = 0.0;
    for (double x = offset - rows->along * ceil(reach / rows->along); x <= reach; x += rows->along)
        sum += exp(-8.0 * gsl_pow_2(x / spot));
    return sum;
}

/* The rows' part: even and odd rows are alike among themselves. */
static void rows_sum(double sum[2], const struct brv_rows *rows, double spot, double y)
{
    const double reach = spot * sqrt(FAINT / 8.0);
    sum[0] = sum[1] = 0.0;
    for (double j = ceil((y - reach) / rows->pitch); j * rows->pitch <= y + reach; j += 1.0)
        sum[fmod(fabs(j), 2.0) > 0.5] += exp(-8.0 * gsl_pow_2((y - j * rows->pitch) / spot));
}

double brv_rows_dose_at(const struct brv_rows *rows, double spot, double x, double y)
{
    double sum[2];
    rows_sum(sum, rows, spot, y);
    return sum[0] * row_sum(rows, spot, offset_of(rows, x, 0.0)) +
           sum[1] * row_sum(rows, spot, offset_of(rows, x, 1.0));
}

/* ---- shares by hits ---- */

/* Where along a line the hits change, in order, and by how much. */
struct changes {
    size_t n;
    double *place, *by; /* [n] within one spacing; +1 or -1 */
};

/* One row's chord of half-length `half`, whose middle lies `shift` along: returns the hits it gives everywhere before
 * the first change, and adds where there is one more.                                                              */
static double add_chord(struct changes *changes, double along, double half, double shift)
{
    const double least = floor(2.0 * half / along), more = 2.0 * half - least * along;
    const double from = shift + half - more, begin = from - along * floor(from / along), end = begin + more;
    const bool wraps = end >= along;
    changes->place[changes->n] = begin;
    changes->by[changes->n++] = 1.0;
    changes->place[changes->n] = wraps ? end - along : end;
    changes->by[changes->n++] = -1.0;
    return wraps ? least + 1.0 : least;
}

static void add_line(struct brv_tally *tally, struct changes *changes, const struct brv_rows *rows, double spot,
                     double y)
{
    const double radius = 0.5 * spot;
    double hits = 0.0, before = 0.0;
    changes->n = 0;
    for (double j = ceil((y - radius) / rows->pitch); j * rows->pitch < y + radius; j += 1.0)
        hits += add_chord(changes, rows->along, sqrt(fmax(radius * radius - gsl_pow_2(y - j * rows->pitch), 0.0)),
                          j * rows->aside);
    gsl_sort2(changes->place, 1, changes->by, 1, changes->n);
    for (size_t i = 0; i <= changes->n; i++) {
        const double here = i < changes->n ? changes->place[i] : rows->along;
        if (here > before) tally->share[(size_t)hits] += (here - before) / (rows->along * N_LINE);
        if (i < changes->n) hits += changes->by[i];
        before = here;
    }
}

/* No place is hit by more rows than cross a spot, nor along a row by more than lie within it. */
static size_t most_rows(const struct brv_rows *rows, double spot)
{
    return (size_t)(spot / rows->pitch) + 2;
}

brv_status brv_rows_tally_hits(struct brv_tally *tally, const struct brv_rows *rows, double spot,
                               struct brv_error *error)
{
    const size_t n_row = most_rows(rows, spot), most = n_row * ((size_t)(spot / rows->along) + 1);
    double *room = brv_array_new(4 * n_row);
    struct changes changes = {0, room, room + 2 * n_row};
    *tally = (struct brv_tally){.n = 0};
    const brv_status status = room ? brv_tally_build(tally, 0.0, 1.0, most + 1, error)
                                   : brv_error_raise(error, BRV_MEMORY, "brv_rows_tally_hits");
    for (size_t i = 0; i < N_LINE && !status; i++)
        add_line(tally, &changes, rows, spot, 0.5 * rows->pitch * ((double)i + 0.5) / N_LINE);
    while (tally->n > 1 && !(tally->share[tally->n - 1] > NOTHING)) tally->n--;
    free(room);
    return status;
}

/* ---- shares by dose ---- */

double brv_rows_dose(const struct brv_rows *rows, double spot)
{
    return 0.5 * brv_rows_hits(rows, spot);
}

/* Wave vectors G = 2 pi (m / along, (l - m aside / along) / pitch). */
double brv_rows_ripple(const struct brv_rows *rows, double spot)
{
    const double unit = gsl_pow_2(2.0 * BRV_PI * spot) / 16.0;
    const double most_m = ceil(rows->along * sqrt(FAINT / unit)), most_l = 1.0 + ceil(rows->pitch * sqrt(FAINT / unit));
    double sum = 0.0;
    for (double m = -most_m; m <= most_m; m += 1.0) {
        const double middle = floor(m * rows->aside / rows->along);
        for (double l = middle - most_l; l <= middle + most_l; l += 1.0)
            if (fabs(m) > 0.0 || fabs(l) > 0.0)
                sum += exp(-unit *
                           (gsl_pow_2(m / rows->along) + gsl_pow_2((l - m * rows->aside / rows->along) / rows->pitch)));
    }
    return sqrt(sum);
}

/* The dose on the nodes of a quarter of two rows' cell, x from a centre to half a spacing, y from a row to the next:
 * all of the skin looks like it. The nodes on its edges belong to it by half.                                      */
struct quarter {
    double even[N_ACROSS + 1], odd[N_ACROSS + 1]; /* sums along the two kinds of rows */
    double down[N_DOWN + 1][2];
};

static void quarter_fill(struct quarter *quarter, const struct brv_rows *rows, double spot)
{
    for (size_t i = 0; i <= N_ACROSS; i++) {
        const double x = 0.5 * rows->along * (double)i / N_ACROSS;
        quarter->even[i] = row_sum(rows, spot, offset_of(rows, x, 0.0));
        quarter->odd[i] = row_sum(rows, spot, offset_of(rows, x, 1.0));
    }
    for (size_t k = 0; k <= N_DOWN; k++) rows_sum(quarter->down[k], rows, spot, rows->pitch * (double)k / N_DOWN);
}

static double quarter_dose(const struct quarter *quarter, size_t i, size_t k)
{
    return quarter->down[k][0] * quarter->even[i] + quarter->down[k][1] * quarter->odd[i];
}

static double edge(size_t i, size_t last)
{
    return i == 0 || i == last ? 0.5 : 1.0;
}

/* Each node's share goes to the two values beside its dose, so that the mean stays. */
static void quarter_count(struct brv_tally *tally, const struct quarter *quarter)
{
    for (size_t i = 0; i <= N_ACROSS; i++)
        for (size_t k = 0; k <= N_DOWN; k++) {
            const double weight = edge(i, N_ACROSS) * edge(k, N_DOWN) / ((double)N_ACROSS * N_DOWN);
            const double place = fmax((quarter_dose(quarter, i, k) - tally->first) / tally->step, 0.0);
            const size_t below = (size_t)fmin(place, (double)tally->n - 2.0);
            const double part = fmin(place - (double)below, 1.0);
            tally->share[below] += weight * (1.0 - part);
            tally->share[below + 1] += weight * part;
        }
}

brv_status brv_rows_tally_dose(struct brv_tally *tally, const struct brv_rows *rows, double spot,
                               struct brv_error *error)
{
    struct quarter quarter;
    double least = INFINITY, most = 0.0;
    quarter_fill(&quarter, rows, spot);
    for (size_t i = 0; i <= N_ACROSS; i++)
        for (size_t k = 0; k <= N_DOWN; k++) {
            least = fmin(least, quarter_dose(&quarter, i, k));
            most = fmax(most, quarter_dose(&quarter, i, k));
        }
    const double step = fmax((most - least) / N_STEP, EVEN * most / N_STEP);
    const brv_status status = brv_tally_build(tally, least, step, N_STEP + 1, error);
    if (!status) quarter_count(tally, &quarter);
    return status;
}
