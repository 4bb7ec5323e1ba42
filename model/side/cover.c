#include "side/cover.h"

#include "base/constants.h"

#include <math.h>

#define TWICE   2.0 /* the rate that a hand does not follow */
#define NONE    ((double)NAN)
#define ENDLESS ((double)INFINITY)

const double brv_dose_levels[BRV_N_DOSE_LEVEL] = {0.05, 0.5, 0.95};

/* ---- pulses, time, hand ---- */

/* Whole pulses; an area that holds a whole number of cells takes just as many, whatever rounding says. */
static double whole(double pulses)
{
    return ceil(pulses * (1.0 - 1e-12));
}

/* A rim of half a spot around a square, corners rounded. */
static double rim_area(double side, double spot)
{
    return 2.0 * side * spot + 0.25 * BRV_PI * spot * spot;
}

static void count_pulses(struct brv_cover *cover, const struct brv_scenario *ask)
{
    const struct brv_cover_ask *asked = &ask->cover;
    const double side = sqrt(asked->area), spot = ask->beam.spot;
    const struct brv_rows faster = brv_rows_hurried(&cover->rows, TWICE);
    cover->density = brv_rows_density(&cover->rows);
    cover->pulses_pass = whole(asked->area * cover->density);
    cover->pulses = asked->passes * cover->pulses_pass;
    cover->pulses_rim = whole(rim_area(side, spot) * cover->density);
    cover->time = cover->pulses / asked->rate;
    cover->fluence = asked->passes * cover->density * ask->beam.energy;
    cover->energy = cover->pulses * ask->beam.energy;
    cover->hand = cover->random ? NONE : cover->rows.along * asked->rate;
    cover->row = cover->random ? NONE : side;
    cover->row_time = cover->random ? NONE : side / cover->hand;
    cover->overlap_faster = cover->random ? NONE : 1.0 - faster.along / spot;
    cover->along = cover->random ? 0 : brv_rows_along(&cover->rows, spot);
    cover->along_faster = cover->random ? 0 : brv_rows_along(&faster, spot);
}

/* ---- shares ---- */

static brv_status tally_rows(struct brv_covered *pass, const struct brv_cover *cover, const struct brv_rows *rows,
                             double spot, struct brv_error *error)
{
    brv_status status = brv_rows_tally_hits(&pass->hits, rows, spot, error);
    if (status) return status;
    return cover->gaussian ? brv_rows_tally_dose(&pass->doses, rows, spot, error)
                           : brv_tally_stretch(&pass->doses, &pass->hits, 1.0, error);
}

static brv_status tally_random(struct brv_covered *covered, const struct brv_cover *cover, double mean,
                               struct brv_error *error)
{
    brv_status status = brv_tally_poisson(&covered->hits, mean, error);
    if (status) return status;
    return cover->gaussian ? brv_tally_scatter(&covered->doses, 0.5 * mean, error)
                           : brv_tally_stretch(&covered->doses, &covered->hits, 1.0, error);
}

/* What several passes make of one: on the same places or anywhere. */
static brv_status tally_passes(struct brv_covered *covered, const struct brv_covered *pass, double passes, bool same,
                               struct brv_error *error)
{
    brv_status status;
    if (same) {
        status = brv_tally_stretch(&covered->hits, &pass->hits, passes, error);
        return status ? status : brv_tally_stretch(&covered->doses, &pass->doses, passes, error);
    }
    status = brv_tally_repeat(&covered->hits, &pass->hits, (size_t)passes, error);
    return status ? status : brv_tally_repeat(&covered->doses, &pass->doses, (size_t)passes, error);
}

static brv_status tally_faster(struct brv_covered *covered, const struct brv_cover *cover,
                               const struct brv_scenario *ask, double mean, struct brv_error *error)
{
    struct brv_covered pass = {.mean = 0.0};
    const struct brv_rows rows = brv_rows_hurried(&cover->rows, TWICE);
    if (cover->random) return tally_random(covered, cover, TWICE * mean * ask->cover.passes, error);
    brv_status status = tally_rows(&pass, cover, &rows, ask->beam.spot, error);
    if (!status) status = tally_passes(covered, &pass, ask->cover.passes, false, error);
    brv_tally_free(&pass.hits);
    brv_tally_free(&pass.doses);
    return status;
}

static brv_status tally_all(struct brv_cover *cover, const struct brv_scenario *ask, struct brv_error *error)
{
    struct brv_covered *way = cover->way;
    const double passes = ask->cover.passes, mean = brv_rows_hits(&cover->rows, ask->beam.spot);
    brv_status status = cover->random ? tally_random(&way[BRV_COVER_ONE], cover, mean, error)
                                      : tally_rows(&way[BRV_COVER_ONE], cover, &cover->rows, ask->beam.spot, error);
    if (!status)
        status = cover->random ? tally_random(&way[BRV_COVER_ALL], cover, passes * mean, error)
                               : tally_passes(&way[BRV_COVER_ALL], &way[BRV_COVER_ONE], passes, false, error);
    if (!status) status = tally_passes(&way[BRV_COVER_SAME], &way[BRV_COVER_ONE], passes, true, error);
    return status ? status : tally_faster(&way[BRV_COVER_FASTER], cover, ask, mean, error);
}

/* ---- numbers ---- */

/* Dose varies from place to place, and what varies by itself in each pass adds up as squares. */
static double variation_of(const struct brv_cover *cover, const struct brv_rows *rows, double spot, double passes)
{
    const double one = cover->random ? 1.0 / sqrt(brv_rows_hits(rows, spot)) : brv_rows_ripple(rows, spot);
    return one / sqrt(passes);
}

static double highest_of(const struct brv_cover *cover, const struct brv_rows *rows, double spot,
                         const struct brv_covered *covered, double passes)
{
    if (cover->random) return ENDLESS;
    return cover->gaussian ? passes * brv_rows_dose_at(rows, spot, 0.0, 0.0)
                           : brv_tally_value(&covered->hits, covered->hits.n - 1);
}

static void read_shares(struct brv_covered *covered)
{
    for (size_t k = 0; k < BRV_N_HIT_SHARE; k++)
        covered->share[k] = fmin(1.0, brv_tally_between(&covered->hits, (double)k - 0.5, /* rounding of the sum */
                                                        k + 1 < BRV_N_HIT_SHARE ? (double)k + 0.5 : ENDLESS));
}

static double level_of(const struct brv_cover *cover, enum brv_cover_way way, double level, double passes)
{
    const struct brv_covered *covered = &cover->way[way], *one = &cover->way[BRV_COVER_ONE];
    if (!cover->random || !cover->gaussian) return brv_tally_quantile(&covered->doses, level);
    if (way == BRV_COVER_SAME) return passes * brv_tally_scatter_quantile(&one->doses, covered->dose / passes, level);
    return brv_tally_scatter_quantile(&covered->doses, covered->dose, level);
}

static void read_way(struct brv_cover *cover, enum brv_cover_way way, const struct brv_scenario *ask)
{
    struct brv_covered *covered = &cover->way[way];
    const double spot = ask->beam.spot, passes = way == BRV_COVER_ONE ? 1.0 : ask->cover.passes;
    const struct brv_rows rows = brv_rows_hurried(&cover->rows, way == BRV_COVER_FASTER ? TWICE : 1.0);
    covered->mean = passes * brv_rows_hits(&rows, spot);
    covered->dose = cover->gaussian ? 0.5 * covered->mean : covered->mean;
    covered->variation = cover->gaussian || cover->random
                             ? variation_of(cover, &rows, spot, way == BRV_COVER_SAME ? 1.0 : passes)
                             : brv_tally_variation(&covered->doses);
    covered->highest = highest_of(cover, &rows, spot, covered, passes);
    read_shares(covered);
    for (size_t i = 0; i < BRV_N_DOSE_LEVEL; i++) covered->level[i] = level_of(cover, way, brv_dose_levels[i], passes);
}

brv_status brv_cover_solve(struct brv_cover *cover, const struct brv_scenario *ask, struct brv_error *error)
{
    *cover = (struct brv_cover){.random = ask->cover.lattice == BRV_RANDOM_PLACES,
                                .gaussian = ask->beam.profile == BRV_PROFILE_GAUSSIAN,
                                .rows = brv_rows_laid(ask->cover.lattice, ask->beam.spot, ask->cover.overlap)};
    count_pulses(cover, ask);
    const brv_status status = tally_all(cover, ask, error);
    if (status)
        brv_cover_free(cover);
    else
        for (size_t way = 0; way < BRV_N_COVER_WAY; way++) read_way(cover, (enum brv_cover_way)way, ask);
    return status;
}

void brv_cover_free(struct brv_cover *cover)
{
    for (size_t i = 0; i < BRV_N_COVER_WAY; i++) {
        brv_tally_free(&cover->way[i].hits);
        brv_tally_free(&cover->way[i].doses);
    }
    *cover = (struct brv_cover){.density = 0.0};
}
