#include "effect/damage.h"

#include "base/constants.h"

#include <math.h>

#define PIECE     0.25 /* a piece of a history changes by no more [K] */
#define MOST      400  /* pieces between two times */
#define FAR_BELOW 45.0 /* e^-45 is 3e-20: of spans so far below the sum ten thousand leave its last digit alone */
#define CEM_LIMIT (50.0 + BRV_ZERO_C)
#define CEM_BREAK (43.0 + BRV_ZERO_C)

#define AT(celsius) ((celsius) + BRV_ZERO_C)
#define TEN(power)  ((power)*2.302585092994046) /* ln of a power of ten */
#define GAS         8.314                       /* as the re-fit has it [J/mol/K] */

/* A as ln(mantissa) + its power of ten. */
const struct brv_damage_pair brv_damage_pairs[BRV_N_DAMAGE][BRV_N_DAMAGE_TISSUE] = {
    [BRV_DAMAGE_STANDARD] =
        {{AT(44.0), AT(50.0), {0.78162 + TEN(124), 0.60048 + TEN(51)}, {93534.9, 39109.8}, "burn-standards", "seen"},
         {AT(44.0), AT(50.0), {1.46372 + TEN(64), 2.23954 + TEN(104)}, {50000.0, 80000.0}, "burn-standards", "seen"}},
    [BRV_DAMAGE_REFIT] =
        {{0.0, AT(53.0), {2.17702 + TEN(94), 0.26005 + TEN(31)}, {6.03e5 / GAS, 2.04e5 / GAS}, "burn-refit", "memory"},
         {0.0, AT(53.0), {2.17702 + TEN(94), 0.26005 + TEN(31)}, {6.03e5 / GAS, 2.04e5 / GAS}, "burn-refit", "memory"}},
    [BRV_DAMAGE_HENRIQUES] =
        {{0.0, INFINITY, {1.13140 + TEN(98), 0.0}, {6.28e5 / GAS, 0.0}, "henriques-1947", "memory"},
         {0.0, INFINITY, {1.13140 + TEN(98), 0.0}, {6.28e5 / GAS, 0.0}, "henriques-1947", "memory"}},
};

static double log_rate(const struct brv_damage_pair *pair, double temperature)
{
    if (temperature < pair->from) return -(double)INFINITY;
    const int upper = temperature > pair->change;
    return pair->log_factor[upper] - pair->slope[upper] / temperature;
}

/* ln(e^a + e^b). */
static double log_sum(double a, double b)
{
    const double most = fmax(a, b), least = fmin(a, b);
    return isinf(most) ? most : most + log1p(exp(least - most));
}

static size_t pieces(double one, double two)
{
    return (size_t)fmin(1.0 + ceil(fabs(two - one) / PIECE), MOST);
}

/* Time that lies before share `part` of the way from one row to the next; `fold` is the logarithm of after / before. */
static double part_time(double part, double span, double before, double fold)
{
    return fold > 0.0 ? before * expm1(part * fold) : part * span;
}

/* What one span does, over what its hottest moment's rate would do in one second: the temperature goes straight from `one` to
 * `two`, in the logarithm of the time where it can.                                                                   */
static double span_seconds(const struct brv_damage_pair *pair, double one, double two, double span, double before,
                           double after, double log_most)
{
    const size_t m = pieces(one, two);
    const double fold = before > 0.0 && after > before ? log(after / before) : 0.0;
    double last = part_time(0.0, span, before, fold), sum = 0.0;
    for (size_t k = 0; k < m; k++) {
        const double first = last, middle = one + (two - one) * ((double)k + 0.5) / (double)m;
        last = part_time((double)(k + 1) / (double)m, span, before, fold);
        sum += (last - first) * exp(log_rate(pair, middle) - log_most);
    }
    return sum;
}

double brv_damage_lasting(const struct brv_damage_pair *pair, size_t n, const double time[], const double since[],
                          const double temperature[], double brief)
{
    double sum = -(double)INFINITY;
    for (size_t i = 1; i < n; i++) {
        if (since[i - 1] >= 0.0 && since[i - 1] < brief) continue;
        const double one = temperature[i - 1], two = temperature[i], span = time[i] - time[i - 1];
        const double most = log_rate(pair, fmax(one, two));
        if (!(span > 0.0) || isinf(most) || log(span) + most < sum - FAR_BELOW) continue;
        sum = log_sum(sum, most + log(span_seconds(pair, one, two, span, since[i - 1], since[i], most)));
    }
    return sum;
}

double brv_damage_log(const struct brv_damage_pair *pair, size_t n, const double time[], const double since[],
                      const double temperature[])
{
    return brv_damage_lasting(pair, n, time, since, temperature, 0.0);
}

double brv_damage_minutes(size_t n, const double time[], const double temperature[])
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        if (temperature[i] > CEM_LIMIT) return (double)NAN;
    for (size_t i = 1; i < n; i++) {
        const double middle = 0.5 * (temperature[i - 1] + temperature[i]);
        const double base = middle >= CEM_BREAK ? 0.5 : 0.25;
        sum += (time[i] - time[i - 1]) / 60.0 * pow(base, CEM_BREAK - middle);
    }
    return sum;
}
