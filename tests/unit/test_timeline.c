/* The timeline: spells, their rows, and that times keep their digits. */
#include "heat/timeline.h"
#include "support/check.h"

#include <math.h>

static struct brv_timeline_ask train(const double start[], size_t n)
{
    return (struct brv_timeline_ask){
        .n_pulse = n, .pulse = start, .window = 35e-9, .end = 24.5e-9, .grain = 2e-8, .until = start[n - 1] + 10.0};
}

static void build(struct brv_timeline *timeline, const struct brv_timeline_ask *ask)
{
    assert_int_equal(brv_timeline_build(timeline, ask, NULL), BRV_OK);
}

/* Spells meet end to end from the first start to the last time; rows ascend and end with their spell. */
static void hold_in_order(const struct brv_timeline *timeline, double until)
{
    size_t row = 1;
    for (size_t i = 0; i < timeline->n_spell; i++) {
        const struct brv_spell *spell = &timeline->spell[i];
        const double end = i + 1 < timeline->n_spell ? spell[1].start : until;
        check_close(spell->start + spell->length, end, 1e-15, 0.0);
        assert_int_equal(spell->first_row, row);
        for (size_t k = 0; k < spell->n_row; k++) {
            const double before = k ? timeline->time[row + k - 1] : 0.0;
            assert_true(timeline->time[row + k] > before);
        }
        row += spell->n_row;
        check_close(timeline->time[row - 1], spell->length, 0.0, 0.0);
        assert_true(timeline->beat[row - 1] == BRV_NO_BEAT);
    }
    assert_int_equal(row, timeline->n_row);
}

static void one_pulse_is_one_spell(void **state)
{
    (void)state;
    static const double start[] = {0.0};
    const struct brv_timeline_ask ask = train(start, 1);
    struct brv_timeline timeline;
    build(&timeline, &ask);
    assert_int_equal(timeline.n_spell, 1);
    assert_true(timeline.spell[0].fired && !timeline.spell[0].covered);
    assert_int_equal(timeline.spell[0].pulse, 1);
    assert_int_equal(timeline.before[0], 0);
    hold_in_order(&timeline, 10.0);
    brv_timeline_free(&timeline);
    brv_timeline_free(&timeline);
}

/* Before, between and after: five pulses and a plate from -1 s to past the third. */
static void spells_of_a_plate(void **state)
{
    (void)state;
    static const double start[] = {0.0, 0.5, 1.0, 1.5, 2.0};
    struct brv_timeline_ask ask = train(start, 5);
    struct brv_timeline timeline;
    ask.from = -1.0;
    ask.to = 1.2;
    build(&timeline, &ask);
    assert_int_equal(timeline.n_spell, 7);
    static const size_t pulse[] = {0, 1, 2, 3, 3, 4, 5};
    static const bool fired[] = {false, true, true, true, false, true, true};
    static const bool covered[] = {true, true, true, true, false, false, false};
    for (size_t i = 0; i < 7; i++) {
        assert_int_equal(timeline.spell[i].pulse, pulse[i]);
        assert_int_equal(timeline.spell[i].fired, fired[i]);
        assert_int_equal(timeline.spell[i].covered, covered[i]);
    }
    check_close(timeline.spell[4].since, 0.2, 1e-12, 0.0);
    check_close(timeline.spell[0].since, -1.0, 0.0, 0.0);
    hold_in_order(&timeline, 12.0);
    for (size_t k = 0; k < 5; k++) /* the row before a pulse is the end of the spell before it */
        check_close(timeline.time[timeline.before[k]], k ? (k == 3 ? 0.3 : 0.5) : 1.0, 1e-12, 0.0);
    brv_timeline_free(&timeline);
}

static void an_edge_at_a_pulse_is_no_spell_of_its_own(void **state)
{
    (void)state;
    static const double start[] = {0.0, 0.5};
    struct brv_timeline_ask ask = train(start, 2);
    struct brv_timeline timeline;
    ask.from = 0.0;
    ask.to = 0.5;
    build(&timeline, &ask);
    assert_int_equal(timeline.n_spell, 2);
    assert_true(timeline.spell[0].covered && !timeline.spell[1].covered);
    hold_in_order(&timeline, 10.5);
    brv_timeline_free(&timeline);
    ask.from = 3.0;
    ask.to = 99.0; /* past the end: no spell after it */
    build(&timeline, &ask);
    assert_int_equal(timeline.n_spell, 3);
    assert_true(timeline.spell[2].covered && !timeline.spell[2].fired);
    hold_in_order(&timeline, 10.5);
    brv_timeline_free(&timeline);
}

/* 0.8 s in the file, 0.1 + 0.7 s in the train: one roundoff apart, and the plate is gone when the pulse begins. */
static void a_rounded_edge_is_the_pulse(void **state)
{
    (void)state;
    const double start[] = {0.0, 0.1, 1.0 * (0.1 + 0.7), 0.9};
    struct brv_timeline_ask ask = train(start, 4);
    struct brv_timeline timeline;
    ask.from = 0.5;
    ask.to = 0.8;
    assert_true(start[2] < ask.to);
    for (int turn = 0; turn < 2; turn++) {
        build(&timeline, &ask);
        assert_int_equal(timeline.n_spell, 5);
        assert_true(timeline.spell[3].fired && !timeline.spell[3].covered && timeline.spell[2].covered);
        assert_true(brv_timeline_row(&timeline, 3, ask.window) != BRV_NO_BEAT);
        assert_int_equal(timeline.spell[3].n_row, timeline.spell[0].n_row);
        hold_in_order(&timeline, 10.9);
        brv_timeline_free(&timeline);
        ask.to = nextafter(start[2], 0.0); /* and the other way round */
    }
}

/* Taken away as the pulse ends: what the grain does in the next nanoseconds is still written, and so are landmarks. */
static void rows_go_on_after_an_edge(void **state)
{
    (void)state;
    static const double start[] = {0.0}, edge[] = {35e-9, 40e-9, 1e-6, 2.0};
    struct brv_timeline_ask ask = train(start, 1);
    struct brv_timeline bare, timeline;
    ask.n_landmark = 2;
    ask.landmark[0] = ask.end + 1e-6;
    ask.landmark[1] = 5.0;
    build(&bare, &ask);
    ask.from = -1.0;
    for (size_t i = 0; i < 4; i++) {
        ask.to = edge[i];
        build(&timeline, &ask);
        hold_in_order(&timeline, 10.0);
        for (size_t row = 1; row < bare.n_row; row++)
            assert_true(brv_timeline_row(&timeline, 1, bare.time[row]) != BRV_NO_BEAT);
        assert_true(brv_timeline_row(&timeline, 1, edge[i] + 1e-3) != BRV_NO_BEAT);
        brv_timeline_free(&timeline);
    }
    brv_timeline_free(&bare);
}

/* Where a fading pulse makes a grain hottest, rows stand close enough for its peak to be read from them. */
static void hold_peak(const struct brv_timeline *timeline, const struct brv_spell *spell,
                      const struct brv_timeline_ask *ask)
{
    for (size_t k = 1; k < spell->n_row; k++) {
        const double time = timeline->time[spell->first_row + k], before = timeline->time[spell->first_row + k - 1];
        if (time > 0.55 * ask->window && time <= ask->end) assert_true(time - before < ask->window / 16.0);
    }
}

static void a_long_train_stays_small(void **state)
{
    (void)state;
    double start[200];
    for (size_t k = 0; k < 200; k++) start[k] = 0.1 * (double)k;
    const struct brv_timeline_ask ask = train(start, 200);
    struct brv_timeline timeline;
    build(&timeline, &ask);
    assert_int_equal(timeline.n_spell, 200);
    assert_true(timeline.n_row > 2000 && timeline.n_row < 10000);
    /* the first and the last pulse in full, with the end of the pulse in every one */
    assert_true(timeline.spell[199].n_row > 200 && timeline.spell[0].n_row > 150 && timeline.spell[77].n_row < 45);
    for (size_t k = 1; k <= 200; k++) {
        assert_true(brv_timeline_row(&timeline, k, ask.window) != BRV_NO_BEAT);
        assert_true(brv_timeline_row(&timeline, k, ask.end) != BRV_NO_BEAT);
    }
    hold_peak(&timeline, &timeline.spell[77], &ask);
    hold_in_order(&timeline, start[199] + 10.0);
    brv_timeline_free(&timeline);
}

/* 24.5 ns after the tenth pulse, nine seconds in: all digits, where the sum has eight. */
static void times_keep_their_digits(void **state)
{
    (void)state;
    double start[10];
    for (size_t k = 0; k < 10; k++) start[k] = (double)k;
    struct brv_timeline_ask ask = train(start, 10);
    struct brv_timeline timeline;
    ask.n_landmark = 1;
    ask.landmark[0] = ask.end + 1e-9;
    build(&timeline, &ask);
    const size_t row = brv_timeline_row(&timeline, 10, ask.end + 1e-9);
    assert_true(row != BRV_NO_BEAT);
    check_close(timeline.time[row], 25.5e-9, 1e-15, 0.0);
    assert_true(brv_timeline_row(&timeline, 10, 77.0) == BRV_NO_BEAT);
    assert_true(brv_timeline_row(&timeline, 11, ask.end) == BRV_NO_BEAT);
    brv_timeline_free(&timeline);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_pulse_is_one_spell),
        cmocka_unit_test(spells_of_a_plate),
        cmocka_unit_test(an_edge_at_a_pulse_is_no_spell_of_its_own),
        cmocka_unit_test(a_rounded_edge_is_the_pulse),
        cmocka_unit_test(rows_go_on_after_an_edge),
        cmocka_unit_test(a_long_train_stays_small),
        cmocka_unit_test(times_keep_their_digits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
