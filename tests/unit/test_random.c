/* Counter-based random numbers: known answers, open ends, and that neighbours do not resemble each other. */
#include "base/random.h"
#include "support/check.h"

#include <math.h>

static void check_words(const struct brv_random *found, uint32_t a, uint32_t b, uint32_t c, uint32_t d)
{
    assert_int_equal(found->word[0], a);
    assert_int_equal(found->word[1], b);
    assert_int_equal(found->word[2], c);
    assert_int_equal(found->word[3], d);
}

static void known_answers(void **state)
{
    (void)state;
    const uint32_t zero[4] = {0}, ones[4] = {UINT32_MAX, UINT32_MAX, UINT32_MAX, UINT32_MAX};
    const struct brv_random first = brv_random_draw(zero, zero), second = brv_random_draw(ones, ones);
    check_words(&first, 0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8);
    check_words(&second, 0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd);
}

static void neither_end_is_reached(void **state)
{
    (void)state;
    assert_true(brv_random_short(0) > 0.0 && brv_random_short(UINT32_MAX) < 1.0);
    assert_true(brv_random_long(0, 0) > 0.0 && brv_random_long(UINT32_MAX, UINT32_MAX) < 1.0);
    check_close(brv_random_short(0x80000000), 0.5, 0.0, 1.2e-10);
    check_close(brv_random_long(0x80000000, 0), 0.5, 0.0, 1.2e-16);
}

/* Mean, variance, correlation with the next photon and with the next step: each within 5 of its standard errors. */
static void even_and_independent(void **state)
{
    (void)state;
    enum { N = 200000 };
    const uint32_t key[2] = {7, 0};
    double mean = 0.0, square = 0.0, next_photon = 0.0, next_step = 0.0;
    for (uint32_t i = 0; i < N; i++) {
        const uint32_t here[4] = {i, 0, 3, 0}, photon[4] = {i + 1, 0, 3, 0}, step[4] = {i, 0, 4, 0};
        const double x = brv_random_short(brv_random_draw(key, here).word[0]) - 0.5;
        mean += x;
        square += x * x;
        next_photon += x * (brv_random_short(brv_random_draw(key, photon).word[0]) - 0.5);
        next_step += x * (brv_random_short(brv_random_draw(key, step).word[0]) - 0.5);
    }
    const double root = sqrt((double)N);
    check_close(mean / N, 0.0, 0.0, 5.0 * sqrt(1.0 / 12.0) / root);
    check_close(square / N, 1.0 / 12.0, 0.0, 5.0 * sqrt(1.0 / 180.0) / root);
    check_close(next_photon / N, 0.0, 0.0, 5.0 / 12.0 / root);
    check_close(next_step / N, 0.0, 0.0, 5.0 / 12.0 / root);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(known_answers),
        cmocka_unit_test(neither_end_is_reached),
        cmocka_unit_test(even_and_independent),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
