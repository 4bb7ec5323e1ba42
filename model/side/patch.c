#include "side/patch.h"

#include "base/array.h"
#include "base/random.h"

#include <gsl/gsl_math.h>

#include <math.h>
#include <stdlib.h>

#define GAUSSIAN_REACH 1.5 /* of a spot around a drawing: exp(-18) of a pulse is nothing to see */

enum { SHIFTS, PLACES }; /* what a number is drawn for */

/* Two numbers in (0, 1), the item's own. */
static void draw_pair(double pair[2], uint32_t seed, uint32_t what, uint32_t item)
{
    const uint32_t key[2] = {seed, what}, counter[4] = {item, 0, 0, 0};
    const struct brv_random random = brv_random_draw(key, counter);
    pair[0] = brv_random_long(random.word[0], random.word[1]);
    pair[1] = brv_random_long(random.word[2], random.word[3]);
}

static double place(const struct brv_patch *patch, size_t i)
{
    return ((double)i + 0.5) * patch->step;
}

/* ---- rows ---- */

static void lay_rows(struct brv_patch *patch, const struct brv_cover *cover, double spot, const double shift[2])
{
    const double x0 = shift[0] * cover->rows.along, y0 = shift[1] * 2.0 * cover->rows.pitch;
    for (size_t k = 0; k < patch->n; k++)
        for (size_t i = 0; i < patch->n; i++) {
            const double x = place(patch, i) - x0, y = place(patch, k) - y0;
            const double hits = (double)brv_rows_hits_at(&cover->rows, spot, x, y);
            patch->hits[k * patch->n + i] += hits;
            patch->dose[k * patch->n + i] += cover->gaussian ? brv_rows_dose_at(&cover->rows, spot, x, y) : hits;
        }
}

/* ---- anywhere ---- */

/* exp(-8 d^2/D^2) of the distances along one axis: of two axes it is the product. */
static void fade(double along[], const struct brv_patch *patch, double spot, double centre)
{
    for (size_t i = 0; i < patch->n; i++) along[i] = exp(-8.0 * gsl_pow_2((place(patch, i) - centre) / spot));
}

static void lay_spot(struct brv_patch *patch, bool gaussian, double spot, const double centre[2], double *room)
{
    double *across = room, *down = room + patch->n;
    fade(across, patch, spot, centre[0]);
    fade(down, patch, spot, centre[1]);
    const double edge = exp(-2.0); /* a quarter of D^2 away */
    for (size_t k = 0; k < patch->n; k++)
        for (size_t i = 0; i < patch->n; i++) {
            const double dose = down[k] * across[i], hit = dose >= edge ? 1.0 : 0.0;
            patch->hits[k * patch->n + i] += hit;
            patch->dose[k * patch->n + i] += gaussian ? dose : hit;
        }
}

/* As many as an area takes: their number is drawn too, for a patch is a part of a larger area. Spots come in the order
 * of a walk through the square with its margin whose steps are exponential: what a Poisson process is.             */
static void lay_anywhere(struct brv_patch *patch, const struct brv_cover *cover, double spot, double passes,
                         uint32_t seed, double *room)
{
    const double margin = cover->gaussian ? GAUSSIAN_REACH * spot : 0.5 * spot;
    const double wide = patch->step * (double)patch->n + 2.0 * margin, mean = passes * cover->density * wide * wide;
    double walked = 0.0;
    for (uint32_t item = 0;; item++) {
        double pair[2], centre[2];
        draw_pair(pair, seed, PLACES, 2 * item);
        walked -= log(pair[0]);
        if (walked > mean) return;
        draw_pair(centre, seed, PLACES, 2 * item + 1);
        for (size_t axis = 0; axis < 2; axis++) centre[axis] = centre[axis] * wide - margin;
        lay_spot(patch, cover->gaussian, spot, centre, room);
    }
}

brv_status brv_patch_solve(struct brv_patch *patch, const struct brv_cover *cover, const struct brv_scenario *ask,
                           size_t n, double side, uint32_t seed, struct brv_error *error)
{
    *patch = (struct brv_patch){n, side / (double)n, brv_array_new(n * n), brv_array_new(n * n)};
    double *room = brv_array_new(2 * n);
    if (!patch->dose || !patch->hits || !room) {
        brv_patch_free(patch);
        free(room);
        return brv_error_raise(error, BRV_MEMORY, "brv_patch_solve");
    }
    if (cover->random) lay_anywhere(patch, cover, ask->beam.spot, ask->cover.passes, seed, room);
    free(room);
    for (uint32_t pass = 0; pass < ask->cover.passes && !cover->random; pass++) {
        double shift[2];
        draw_pair(shift, seed, SHIFTS, pass);
        lay_rows(patch, cover, ask->beam.spot, shift);
    }
    return BRV_OK;
}

void brv_patch_free(struct brv_patch *patch)
{
    free(patch->dose);
    free(patch->hits);
    *patch = (struct brv_patch){.n = 0};
}
