/* How spots cover skin: against closed forms of circles in rows, a count over a grid, Fourier sums, and tables laid down
 * before the program was written. Places by chance: test_tally.c.                                                   */
#include "side/cover.h"
#include "side/patch.h"

#include "scenario/keys.h"
#include "support/check.h"
#include "support/exact_cover.h"
#include "support/sample.h"
#include "support/table.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define DATA  "tests/verification/data/"
#define LINES 1e-6 /* what rows.h claims of a share */

static struct brv_scenario with_cover(int lattice, double overlap, double passes)
{
    struct brv_scenario ask = sample_scenario();
    ask.cover =
        (struct brv_cover_ask){.overlap = overlap, .lattice = lattice, .area = 0.01, .rate = 5.0, .passes = passes};
    sample_give(&ask.cover, BRV_SCOPE_COVER, "overlap");
    sample_give(&ask.cover, BRV_SCOPE_COVER, "lattice");
    sample_give(&ask.cover, BRV_SCOPE_COVER, "area");
    sample_give(&ask.cover, BRV_SCOPE_COVER, "rate");
    sample_give(&ask.cover, BRV_SCOPE_COVER, "passes");
    brv_scenario_fill(&ask);
    assert_int_equal(brv_scenario_check(&ask, NULL, 0), 0);
    return ask;
}

static struct brv_cover solved(const struct brv_scenario *ask)
{
    struct brv_cover cover;
    assert_int_equal(brv_cover_solve(&cover, ask, NULL), BRV_OK);
    return cover;
}

/* ---- one pass of flat spots ---- */

static void packing(void **state)
{
    (void)state;
    for (int lattice = BRV_HEXAGONAL; lattice <= BRV_SQUARE_LATTICE; lattice++) {
        const bool square = lattice == BRV_SQUARE_LATTICE;
        const double closed = square ? 1.0 - sqrt(0.5) : 1.0 - 0.5 * sqrt(3.0);
        char what[80];
        struct brv_scenario ask = with_cover(lattice, 0.0, 1.0);
        struct brv_cover cover = solved(&ask);
        snprintf(what, sizeof what, "touching circles, share covered, %s", square ? "square" : "hexagonal");
        check_row(what, "circle-packing (memory)", 1.0 - cover.way[BRV_COVER_ONE].share[0],
                  square ? acos(-1.0) / 4.0 : acos(-1.0) / (2.0 * sqrt(3.0)), LINES, "areas by lines");
        brv_cover_free(&cover);

        /* Where the gap closes, found by halving: it is seen until it lies between two lines, 2e-5 of the diameter apart. */
        double low = 0.0, high = 0.5;
        while (high - low > 1e-6) {
            ask = with_cover(lattice, 0.5 * (low + high), 1.0);
            cover = solved(&ask);
            *(cover.way[BRV_COVER_ONE].share[0] > 0.0 ? &low : &high) = 0.5 * (low + high);
            brv_cover_free(&cover);
        }
        snprintf(what, sizeof what, "least overlap that leaves no gap, %s", square ? "square" : "hexagonal");
        check_row(what, "circle-packing (memory)", high, closed, 5e-5, "a gap between two lines is not seen");
    }
}

static void hold_exact(int lattice, void (*exact)(double share[4], double overlap), double most)
{
    for (double overlap = 0.0; overlap < most; overlap += 0.0317) {
        double share[4];
        struct brv_rows rows = brv_rows_laid(lattice, 4e-3, overlap);
        struct brv_tally hits;
        exact(share, overlap);
        assert_int_equal(brv_rows_tally_hits(&hits, &rows, 4e-3, NULL), BRV_OK);
        for (size_t k = 0; k < 4; k++) check_close(k < hits.n ? hits.share[k] : 0.0, share[k], 0.0, 2.0 * LINES);
        check_close(brv_tally_mean(&hits), brv_rows_hits(&rows, 4e-3), 4.0 * LINES, 0.0);
        brv_tally_free(&hits);
    }
}

static void lenses(void **state)
{
    (void)state;
    check_close(exact_lens(1.0, 0.0), acos(-1.0), 1e-15, 0.0);
    check_close(exact_three(1.0, 1e-9), acos(-1.0), 1e-8, 0.0);
    check_close(exact_three(1.0, 1.0), 0.5 * (acos(-1.0) - sqrt(3.0)), 1e-14, 0.0); /* the Reuleaux triangle */
    hold_exact(BRV_HEXAGONAL, exact_cover_hexagonal, 1.0 - 1.0 / sqrt(3.0));
    hold_exact(BRV_SQUARE_LATTICE, exact_cover_square, 1.0 - sqrt(0.5));
}

/* Counted on a grid over a cell, circle by circle: no chords, no lines. */
static void count_grid(double share[], size_t n_share, const struct brv_rows *rows, double spot)
{
    enum { N = 600, REACH = 24 };
    memset(share, 0, n_share * sizeof *share);
    for (size_t i = 0; i < N; i++)
        for (size_t k = 0; k < N; k++) {
            const double x = (i + 0.5) / N * rows->along, y = (k + 0.5) / N * rows->pitch;
            size_t hits = 0;
            for (int row = -REACH; row <= REACH; row++) {
                if (fabs(y - row * rows->pitch) > 0.5 * spot) continue;
                for (int column = -2 * REACH; column <= 2 * REACH; column++)
                    hits += hypot(x - column * rows->along - row * rows->aside, y - row * rows->pitch) <= 0.5 * spot;
            }
            share[hits < n_share ? hits : n_share - 1] += 1.0 / ((double)N * N);
        }
}

/* Hexagonal, square and hurried rows, past where closed forms end. 360 000 places: what a boundary cuts is uncertain by a
 * row of them, and the worst seen was 4e-4.                                                                         */
static void counted(void **state)
{
    (void)state;
    const struct brv_rows calm = brv_rows_laid(BRV_HEXAGONAL, 1.0, 0.1), hurried = brv_rows_hurried(&calm, 2.0);
    check_close(hurried.aside, calm.aside, 0.0, 0.0); /* every row begins where it did */
    check_close(hurried.pitch, calm.pitch, 0.0, 0.0);
    static const double overlap[] = {0.05, 0.237, 0.41, 0.6};
    for (size_t i = 0; i < 4; i++)
        for (int kind = 0; kind < 3; kind++) {
            double share[40];
            struct brv_rows rows = brv_rows_laid(kind == 1 ? BRV_SQUARE_LATTICE : BRV_HEXAGONAL, 1.0, overlap[i]);
            struct brv_tally hits;
            if (kind == 2) rows = brv_rows_hurried(&rows, 2.0);
            count_grid(share, 40, &rows, 1.0);
            assert_int_equal(brv_rows_tally_hits(&hits, &rows, 1.0, NULL), BRV_OK);
            for (size_t k = 0; k < 40; k++) check_close(k < hits.n ? hits.share[k] : 0.0, share[k], 0.0, 1e-3);
            brv_tally_free(&hits);
        }
}

/* Far beyond closed forms the shares still sum to all of the skin, and their mean is the energy's. */
static void crowded(void **state)
{
    (void)state;
    for (double overlap = 0.5; overlap < 0.96; overlap += 0.05)
        for (int kind = 0; kind < 2; kind++) {
            struct brv_rows rows = brv_rows_laid(kind, 6e-3, overlap);
            struct brv_tally hits;
            rows = brv_rows_hurried(&rows, 2.0);
            assert_int_equal(brv_rows_tally_hits(&hits, &rows, 6e-3, NULL), BRV_OK);
            check_close(brv_tally_between(&hits, -1.0, INFINITY), 1.0, 1e-12, 0.0);
            check_close(brv_tally_mean(&hits), brv_rows_hits(&rows, 6e-3), 4.0 * LINES, 0.0);
            assert_true(hits.share[0] <= 0.0);
            brv_tally_free(&hits);
        }
}

/* The table was counted on a grid: its own shares miss its own mean by up to 3e-4, and closed forms by 5e-4. */
static void check_overlap(const struct table_row *row, void *context)
{
    (void)context;
    static const char *const column[] = {"missed", "hit_once", "hit_twice", "hit_3_or_more"};
    const bool square = !strcmp(table_text(row, "lattice"), "square");
    const struct brv_scenario ask =
        with_cover(square ? BRV_SQUARE_LATTICE : BRV_HEXAGONAL, table_number(row, "linear_overlap_fraction"), 1.0);
    struct brv_cover cover = solved(&ask);
    const struct brv_covered *one = &cover.way[BRV_COVER_ONE];
    check_close(one->mean, table_number(row, "mean_hits_per_pass"), 0.0, 1e-4);
    check_close(cover.rows.along / ask.beam.spot, table_number(row, "spacing_over_diameter"), 0.0, 5e-5);
    for (size_t k = 0; k < 4; k++) check_close(one->share[k], table_number(row, column[k]), 0.0, 1e-3);
    brv_cover_free(&cover);
}

static void table_of_overlaps(void **state)
{
    (void)state;
    assert_int_equal(table_each(DATA "cover_overlap.csv", check_overlap, NULL), 11);
}

/* ---- several passes ---- */

/* Two passes counted over all shifts of one against the other: the mean of that is what is claimed. */
static void two_passes(void **state)
{
    (void)state;
    enum { N_SHIFT = 11, N = 250 };
    const struct brv_rows rows = brv_rows_laid(BRV_HEXAGONAL, 1.0, 0.1);
    const struct brv_scenario ask = with_cover(BRV_HEXAGONAL, 0.1, 2.0);
    struct brv_cover cover = solved(&ask);
    double share[8] = {0.0};
    for (size_t s = 0; s < N_SHIFT * N_SHIFT; s++)
        for (size_t p = 0; p < N * N; p++) {
            const double x = (p % N + 0.5) / N * rows.along, y = (p / N + 0.5) / N * rows.pitch;
            const double dx = (s % N_SHIFT + 0.37) / N_SHIFT * rows.along;
            const double dy = (s / N_SHIFT + 0.37) / N_SHIFT * rows.pitch;
            const size_t hits = brv_rows_hits_at(&rows, 1.0, x, y) + brv_rows_hits_at(&rows, 1.0, x + dx, y + dy);
            share[hits] += 1.0 / ((double)N_SHIFT * N_SHIFT * N * N);
        }
    const struct brv_covered *all = &cover.way[BRV_COVER_ALL], *same = &cover.way[BRV_COVER_SAME];
    for (size_t k = 0; k < 3; k++) check_close(all->share[k], share[k], 0.0, 1e-3); /* a grid of 250 by 250 places */
    const struct brv_covered *one = &cover.way[BRV_COVER_ONE];
    check_close(all->share[0], one->share[0] * one->share[0], 1e-9, 0.0); /* missed twice */
    check_close(all->variation, one->variation / sqrt(2.0), 1e-9, 0.0);   /* variances add */
    check_close(same->share[0], one->share[0], 1e-12, 0.0);
    check_close(same->share[1], 0.0, 0.0, 1e-12); /* nothing is hit once */
    check_close(same->share[2], one->share[1], 1e-12, 0.0);
    check_close(same->variation, one->variation, 1e-9, 0.0);
    check_close(same->mean, all->mean, 1e-15, 0.0);
    assert_true(all->highest == 4.0 && same->highest == 4.0 && one->highest == 2.0);
    brv_cover_free(&cover);
}

/* ---- gaussian spots ---- */

/* The Fourier sum against sums over places: mean and variation from the very doses, and from the tally. */
static void ripples(void **state)
{
    (void)state;
    enum { N = 48 };
    for (int kind = 0; kind < 4; kind++) {
        const double overlap = kind == 3 ? 0.35 : 0.07 * kind;
        struct brv_rows rows = brv_rows_laid(kind == 1 ? BRV_SQUARE_LATTICE : BRV_HEXAGONAL, 1.0, overlap);
        if (kind == 2) rows = brv_rows_hurried(&rows, 2.0);
        double sum = 0.0, squares = 0.0;
        for (size_t i = 0; i < N; i++)
            for (size_t k = 0; k < N; k++) { /* the periodic sum of a smooth thing is exact beyond all powers */
                double dose = 0.0;
                const double x = (double)i / N * rows.along, y = (double)k / N * 2.0 * rows.pitch;
                for (int row = -16; row <= 16; row++)
                    for (int column = -24; column <= 24; column++)
                        dose += exp(-8.0 * (pow(x - column * rows.along - row * rows.aside, 2.0) +
                                            pow(y - row * rows.pitch, 2.0)));
                sum += dose / (N * N);
                squares += dose * dose / (N * N);
                if (i % 7 == 0) check_close(brv_rows_dose_at(&rows, 1.0, x, y), dose, 1e-12, 0.0);
            }
        check_close(brv_rows_dose(&rows, 1.0), sum, 1e-11, 0.0);
        check_close(brv_rows_ripple(&rows, 1.0), sqrt(squares / (sum * sum) - 1.0), 1e-9, 1e-9);
        struct brv_tally doses;
        assert_int_equal(brv_rows_tally_dose(&doses, &rows, 1.0, NULL), BRV_OK);
        check_close(brv_tally_mean(&doses), sum, 1e-10, 0.0);
        check_close(brv_tally_variation(&doses), brv_rows_ripple(&rows, 1.0), 1e-4, 0.0); /* 400 steps */
        brv_tally_free(&doses);
    }
}

/* What is summed is the energy on an area, for any profile: pulses, places, Fourier sum and tallies agree on it. */
static void energy(void **state)
{
    (void)state;
    for (int kind = 0; kind < 6; kind++) {
        struct brv_scenario ask = with_cover(kind % 3, 0.23, 3.0);
        if (kind > 2) ask.beam.profile = BRV_PROFILE_GAUSSIAN;
        struct brv_cover cover = solved(&ask);
        const double axis = brv_beam_axis_fluence(&ask.beam);
        check_close(cover.fluence, ask.cover.passes * cover.density * ask.beam.energy, 1e-14, 0.0);
        for (size_t way = 0; way < BRV_N_COVER_WAY; way++) {
            const struct brv_covered *covered = &cover.way[way];
            const double passes = way == BRV_COVER_ONE ? 1.0 : way == BRV_COVER_FASTER ? 6.0 : 3.0;
            check_close(axis * covered->dose, passes * cover.density * ask.beam.energy, 1e-14, 0.0);
            check_close(brv_tally_mean(&covered->doses), covered->dose, 1e-6, 0.0);
            check_close(brv_tally_mean(&covered->hits), covered->mean, 1e-6, 0.0);
            check_close(brv_tally_variation(&covered->doses), covered->variation, 3e-4, 0.0);
            assert_true(covered->level[0] <= covered->level[1] && covered->level[1] <= covered->level[2]);
            assert_true(covered->level[2] <= covered->highest * (1.0 + 1e-9));
        }
        brv_cover_free(&cover);
        brv_cover_free(&cover);
    }
}

/* ---- pulses, time, hand ---- */

static void check_time(const struct table_row *row, void *context)
{
    (void)context;
    struct brv_scenario ask = with_cover(BRV_HEXAGONAL, table_number(row, "overlap"), 1.0);
    ask.beam.spot = 1e-3 * table_number(row, "spot_mm");
    for (int k = 1; k <= 2; k++) {
        ask.cover.rate = 5.0 * k;
        struct brv_cover cover = solved(&ask);
        const double rounded = table_number(row, "pulses_per_100cm2");
        check_close(1e-4 * cover.density, table_number(row, "pulses_per_cm2_hex"), 0.0, 6e-4);
        check_close(cover.pulses, ceil(rounded), 0.0, 1.0); /* the table is rounded, not rounded up */
        check_close(cover.time, table_number(row, k == 1 ? "s_per_100cm2_5Hz" : "s_per_100cm2_10Hz"), 0.0, 0.26);
        check_close(1e3 * cover.hand, table_number(row, k == 1 ? "hand_speed_mm_s_5Hz" : "hand_speed_mm_s_10Hz"), 0.0,
                    0.051);
        brv_cover_free(&cover);
    }
}

static void table_of_times(void **state)
{
    (void)state;
    assert_int_equal(table_each(DATA "cover_time.csv", check_time, NULL), 28);
}

/* 6 mm, 10 % overlap, 100 cm2: 5 a second, then 10 and the hand as before. By hand, in the comments. */
static void a_faster_rate(void **state)
{
    (void)state;
    struct brv_scenario ask = with_cover(BRV_HEXAGONAL, 0.1, 1.0);
    ask.beam.spot = 6e-3;
    struct brv_cover cover = solved(&ask);
    assert_true(cover.pulses == 396.0); /* 0.01 / (5.4e-3^2 x 0.8660) = 395.99 */
    check_close(cover.time, 79.2, 1e-12, 0.0);
    check_close(cover.hand, 0.027, 1e-12, 0.0);
    check_close(cover.overlap_faster, 0.55, 1e-12, 0.0);
    check_close(cover.way[BRV_COVER_FASTER].mean, 2.239, 0.0, 5e-4); /* 2 x 0.9069/0.81 */
    check_close(cover.way[BRV_COVER_ONE].mean, 1.1196, 0.0, 5e-5);
    assert_int_equal(cover.along, 2);        /* 6/5.4: one place in nine is hit by two of a row */
    assert_int_equal(cover.along_faster, 3); /* 6/2.7 = 2.2 */
    check_close(cover.row_time, 0.1 / 0.027, 1e-12, 0.0);
    brv_cover_free(&cover);

    /* At twice the rate AND twice the hand everything but the time is as before. */
    ask.cover.rate = 10.0;
    cover = solved(&ask);
    check_close(cover.hand, 0.054, 1e-12, 0.0);
    check_close(cover.time, 39.6, 1e-12, 0.0);
    check_close(cover.way[BRV_COVER_ONE].mean, 1.1196, 0.0, 5e-5);
    brv_cover_free(&cover);
}

/* 1200 pulses of 7 mm and 1.6 J/cm2, as one paper had on half a face (its abstract): 0.616 J each, 462 cm2 of spots in sum.
 * Worked out by hand before the program was written.                                                               */
static void half_a_face(void **state)
{
    (void)state;
    struct brv_scenario ask = sample_scenario();
    ask.beam.spot = 7e-3;
    ask.beam.fluence = 1.6e4;
    ask.cover = (struct brv_cover_ask){.overlap = 0.0, .area = 1200.0 * 49e-6, .rate = 10.0};
    sample_give(&ask.cover, BRV_SCOPE_COVER, "overlap");
    sample_give(&ask.cover, BRV_SCOPE_COVER, "area");
    sample_give(&ask.cover, BRV_SCOPE_COVER, "rate");
    ask.cover.lattice = BRV_SQUARE_LATTICE; /* one pulse to every 49 mm2 */
    sample_give(&ask.cover, BRV_SCOPE_COVER, "lattice");
    brv_scenario_fill(&ask);
    struct brv_cover cover = solved(&ask);
    assert_true(cover.pulses == 1200.0);
    check_close(cover.energy / cover.pulses, 0.616, 0.0, 5e-4);
    check_close(cover.pulses * brv_beam_area(&ask.beam), 462e-4, 0.0, 0.5e-4);
    check_close(cover.fluence, 1.6e4 * 462e-4 / ask.cover.area, 1e-3, 0.0);
    brv_cover_free(&cover);
}

/* Pulses that lie on the area, counted centre by centre: inside it and in a rim of half a spot around it. */
static void rims(void **state)
{
    (void)state;
    struct brv_scenario ask = with_cover(BRV_SQUARE_LATTICE, 0.3, 1.0);
    struct brv_cover cover = solved(&ask);
    const double step = cover.rows.along, radius = 0.5 * ask.beam.spot, side = 0.1;
    double inside = 0.0, rim = 0.0;
    for (double x = 0.5 * step - 3.0 * step; x < side + radius + step; x += step)
        for (double y = 0.5 * step - 3.0 * step; y < side + radius + step; y += step) {
            const double dx = fmax(fmax(-x, x - side), 0.0), dy = fmax(fmax(-y, y - side), 0.0);
            if (hypot(dx, dy) <= 0.0)
                inside += 1.0;
            else if (hypot(dx, dy) <= radius)
                rim += 1.0;
        }
    check_close(cover.pulses_pass, inside, 0.02, 0.0); /* a row more or less at the edges */
    check_close(cover.pulses_rim, rim, 0.5, 0.0); /* half a spot is 0.7 of a spacing: one row or none on each side */
    check_close(cover.pulses_rim, ceil((2.0 * side * ask.beam.spot + acos(-1.0) * radius * radius) / (step * step)),
                0.0, 1e-9);
    brv_cover_free(&cover);
}

/* ---- a drawing ---- */

static void drawings(void **state)
{
    (void)state;
    for (int kind = 0; kind < 6; kind++) {
        struct brv_scenario ask = with_cover(kind % 3, 0.1, 2.0);
        if (kind > 2) ask.beam.profile = BRV_PROFILE_GAUSSIAN;
        struct brv_cover cover = solved(&ask);
        struct brv_patch patch, again, other;
        const double side = 24.0 * ask.beam.spot;
        double dose = 0.0, hits = 0.0, apart = 0.0;
        assert_int_equal(brv_patch_solve(&patch, &cover, &ask, 150, side, 1, NULL), BRV_OK);
        assert_int_equal(brv_patch_solve(&again, &cover, &ask, 150, side, 1, NULL), BRV_OK);
        assert_int_equal(brv_patch_solve(&other, &cover, &ask, 150, side, 2, NULL), BRV_OK);
        for (size_t i = 0; i < patch.n * patch.n; i++) {
            dose += patch.dose[i] / (150.0 * 150.0);
            hits += patch.hits[i] / (150.0 * 150.0);
            apart += fabs(patch.dose[i] - other.dose[i]);
            assert_true(patch.dose[i] == again.dose[i] && patch.hits[i] == again.hits[i]);
        }
        assert_true(apart > 1.0);
        /* Rows: 24 spots wide, half a row more or less at the edges is 2 %. By chance: some 1600 spots, so 2.5 %; thrice
         * that.                                                                                                      */
        const double allowed = cover.random ? 0.075 : 0.02;
        check_close(dose, cover.way[BRV_COVER_ALL].dose, allowed, 0.0);
        check_close(hits, cover.way[BRV_COVER_ALL].mean, allowed, 0.0);
        brv_patch_free(&patch);
        brv_patch_free(&again);
        brv_patch_free(&other);
        brv_patch_free(&other);
        brv_cover_free(&cover);
    }
}

/* ---- what is refused ---- */

static bool refused(struct brv_scenario ask, brv_status status, const char *name)
{
    return sample_is_only_fault(&ask, status, BRV_SCOPE_COVER, name);
}

static void covers_that_cannot_be(void **state)
{
    (void)state;
    struct brv_scenario ask = with_cover(BRV_HEXAGONAL, 0.1, 1.0);
    ask.cover.overlap = 1.0;
    assert_true(refused(ask, BRV_RANGE, "overlap"));
    ask.cover.overlap = -0.1;
    assert_true(refused(ask, BRV_RANGE, "overlap"));
    ask = with_cover(BRV_HEXAGONAL, 0.1, 1.0);
    ask.cover.area = 0.0;
    assert_true(refused(ask, BRV_RANGE, "area"));
    ask = with_cover(BRV_HEXAGONAL, 0.1, 1.0);
    ask.cover.passes = 2.5;
    assert_true(refused(ask, BRV_ORDER, "passes"));
    ask = with_cover(BRV_HEXAGONAL, 0.1, 1.0);
    ask.cover.given &= ~brv_key_bit((size_t)brv_key_find(BRV_SCOPE_COVER, "rate"));
    assert_true(refused(ask, BRV_MISSING, "rate"));
    ask = with_cover(BRV_HEXAGONAL, 0.1, 1.0);
    ask.cover.area = 1e-5; /* 10 mm2 under a spot of 4 mm, 12.6 mm2 */
    assert_true(refused(ask, BRV_ORDER, "area"));
    ask = with_cover(BRV_HEXAGONAL, 0.1, 1.0);
    ask.pulse.width = 0.09;
    ask.cover.rate = 10.0; /* 90 ms of every 100: there is room */
    assert_false(refused(ask, BRV_ORDER, "rate"));
    ask.pulse.shape = BRV_SHAPE_GAUSSIAN; /* with its tails it takes 450 ms */
    assert_true(refused(ask, BRV_ORDER, "rate"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(packing),           cmocka_unit_test(lenses),
        cmocka_unit_test(counted),           cmocka_unit_test(crowded),
        cmocka_unit_test(table_of_overlaps), cmocka_unit_test(two_passes),
        cmocka_unit_test(ripples),           cmocka_unit_test(energy),
        cmocka_unit_test(table_of_times),    cmocka_unit_test(a_faster_rate),
        cmocka_unit_test(half_a_face),       cmocka_unit_test(rims),
        cmocka_unit_test(drawings),          cmocka_unit_test(covers_that_cannot_be),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
