#include "heat/contour.h"

#include "base/array.h"
#include "base/constants.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SLACK        1e-6 /* by how much a time may miss the window: a cut of windows rounds */
#define READ_SHARE   0.2  /* of the cost of a pole goes to reading it, by decade of the window */
#define KEPT         0.99 /* of the widest window, so that the rounding of a cut does not ask for eight poles more */
#define SERIES_BELOW 0.1  /* |z width| below which the mean of e^(z s) is its series */

brv_status brv_contour_build(struct brv_contour *contour, size_t most_cells, struct brv_error *error)
{
    *contour = (struct brv_contour){
        .most_cells = most_cells,
        .rise = calloc(BRV_CONTOUR_MOST_OCTETS * (most_cells ? most_cells : 1), sizeof *contour->rise),
        .scratch = calloc(2 * (most_cells ? most_cells : 1), sizeof *contour->scratch),
        .projected = calloc(BRV_CONTOUR_MOST_OCTETS * BRV_CONTOUR_GAUGES, sizeof *contour->projected),
        .steps = brv_octet_variant(brv_octet_variants() - 1)};
    if (contour->rise && contour->scratch && contour->projected) return BRV_OK;
    brv_contour_free(contour);
    return brv_error_raise(error, BRV_MEMORY, "contour");
}

void brv_contour_free(struct brv_contour *contour)
{
    free(contour->rise);
    free(contour->scratch);
    free(contour->projected);
    *contour = (struct brv_contour){.n = 0};
}

/* ---- the hyperbola ---- */

/* Three errors are kept below the tolerance each, with L its logarithm:
 *     of the step h, poles of the chain to the left:  2 e^(-L1),   h = pi (pi - 2 phi) / L1
 *     of the step h, growth of e^(z to) to the right:   e^(-L2),   scale to = 2 pi phi / h - L2
 *     of the end at u = h n_pole:                       e^(-L3),   scale from (sin phi cosh(h n_pole) - 1) = L3
 * The left one is 4 pi^2 / (scale to h^2) times larger for an inflow into a closed chain: its pole of third order at
 * z = 0 stands where the hyperbola, bent down to the axis, turns. The rest is settled by the best phi. The constants
 * leave the sum of all three at an eighth of the tolerance for any one mode, so that it is below the tolerance also
 * where many modes meet, as in the centre of a sphere.                                                              */
struct hyperbola {
    double phi;   /* angle between the imaginary axis and where it goes far out [1] */
    double step;  /* of u [1] */
    double scale; /* m times `to` [1] */
};

struct hyperbola_ask {
    double tolerance;
    bool fed; /* with an inflow */
};

static double log_left(const struct hyperbola_ask *ask, const struct hyperbola *guess)
{
    const double plain = log(16.0 / ask->tolerance);
    if (!ask->fed) return plain;
    return plain + log(4.0 * BRV_PI * BRV_PI / (guess->scale * guess->step * guess->step));
}

static double log_right(const struct hyperbola_ask *ask)
{
    return log(8.0 / ask->tolerance);
}

static double log_end(const struct hyperbola_ask *ask)
{
    return log(4.0 / ask->tolerance);
}

/* Step and scale for an angle; the left error depends on both, weakly, so a few rounds settle it. Scale 0: no step
 * suits this angle.                                                                                              */
static struct hyperbola hyperbola_of(const struct hyperbola_ask *ask, double phi)
{
    struct hyperbola line = {.phi = phi, .step = 0.2, .scale = 10.0};
    for (int round = 0; round < (ask->fed ? 4 : 1); round++) {
        line.step = BRV_PI * (BRV_PI - 2.0 * phi) / log_left(ask, &line);
        line.scale = 2.0 * BRV_PI * phi / line.step - log_right(ask);
        if (line.scale < 0.1) return (struct hyperbola){.phi = phi, .step = 0.2, .scale = 0.0};
    }
    return line;
}

/* How many poles a window takes at this angle; INFINITY where no step suits it. */
static double poles_at(const struct hyperbola_ask *ask, double phi, double ratio)
{
    const struct hyperbola line = hyperbola_of(ask, phi);
    if (line.scale <= 0.0) return INFINITY;
    return acosh((1.0 + log_end(ask) * ratio / line.scale) / sin(phi)) / line.step;
}

/* The same the other way round: how narrow a window these poles serve, so that less is better there too. */
static double narrowness_at(const struct hyperbola_ask *ask, double phi, double n_pole)
{
    const struct hyperbola line = hyperbola_of(ask, phi);
    if (line.scale <= 0.0) return INFINITY;
    return log_end(ask) / (line.scale * (sin(phi) * cosh(line.step * n_pole) - 1.0));
}

typedef double (*cost_at)(const struct hyperbola_ask *ask, double phi, double given);

/* The angle of least cost, by sections of the golden ratio. The valley is flat: 0.01 in the angle is less than a
 * thousandth of the poles. No step suits the lowest angles, so two equal costs lead upwards.                      */
static double best_angle(cost_at cost, const struct hyperbola_ask *ask, double given)
{
    static const double share = 0.6180339887498949;
    double low = 0.6, high = 1.3, left = high - share * (high - low), right = low + share * (high - low);
    double at_left = cost(ask, left, given), at_right = cost(ask, right, given);
    while (high - low > 0.01) {
        if (at_left < at_right) {
            high = right;
            right = left;
            at_right = at_left;
            left = high - share * (high - low);
            at_left = cost(ask, left, given);
        } else {
            low = left;
            left = right;
            at_left = at_right;
            right = low + share * (high - low);
            at_right = cost(ask, right, given);
        }
    }
    return 0.5 * (low + high);
}

/* Eights of poles; those beyond the need extend the sum and cost nothing. */
static size_t octets_for(const struct hyperbola_ask *ask, double ratio, double phi)
{
    return (size_t)ceil(poles_at(ask, phi, ratio) / BRV_OCTET);
}

size_t brv_contour_poles(double ratio, double tolerance, bool fed)
{
    const struct hyperbola_ask ask = {tolerance, fed};
    return octets_for(&ask, ratio, best_angle(poles_at, &ask, ratio)) * BRV_OCTET;
}

double brv_contour_ratio(double tolerance, bool fed)
{
    const struct hyperbola_ask ask = {tolerance, fed};
    double best = 1.0, least = INFINITY;
    for (double n = BRV_OCTET; n < BRV_CONTOUR_MOST_POLES + 0.5; n += BRV_OCTET) {
        const double ratio = KEPT / narrowness_at(&ask, best_angle(narrowness_at, &ask, n), n);
        const double cost = ratio > 1.0 ? n * (1.0 / log10(ratio) + READ_SHARE) : (double)INFINITY;
        if (cost < least) {
            least = cost;
            best = ratio;
        }
    }
    return best;
}

static void lay_poles(struct brv_contour *contour, const struct hyperbola *line)
{
    const double m = line->scale / contour->to, sine = sin(line->phi), cosine = cos(line->phi);
    for (size_t k = 0; k < contour->n_octet * BRV_OCTET; k++) {
        const double u = ((double)k + 0.5) * line->step, along = cosh(u), across = sinh(u);
        struct brv_octet *pole = &contour->pole[k / BRV_OCTET], *weight = &contour->weight[k / BRV_OCTET];
        pole->re[k % BRV_OCTET] = m * (1.0 - sine * along);
        pole->im[k % BRV_OCTET] = m * cosine * across;
        weight->re[k % BRV_OCTET] = line->step / BRV_PI * m * -sine * across;
        weight->im[k % BRV_OCTET] = line->step / BRV_PI * m * cosine * along;
    }
}

void brv_contour_lay(struct brv_contour *contour, double from, double to, double tolerance, bool fed)
{
    const struct hyperbola_ask ask = {tolerance, fed};
    const double ratio = to / from, phi = best_angle(poles_at, &ask, ratio);
    const size_t n_octet = octets_for(&ask, ratio, phi);
    assert(from > 0.0 && to >= from);
    assert(tolerance >= 1e-12 && tolerance <= 1e-2 && n_octet <= BRV_CONTOUR_MOST_OCTETS);
    const struct hyperbola line = hyperbola_of(&ask, phi);
    contour->n = 0;
    contour->n_octet = n_octet;
    contour->from = from;
    contour->to = to;
    lay_poles(contour, &line);
}

void brv_contour_aim(struct brv_contour *contour, const struct brv_chain *chain, double from, double to,
                     double tolerance, const double heat[], const double inflow[])
{
    assert(chain->n > 0 && chain->n <= contour->most_cells);
    brv_contour_lay(contour, from, to, tolerance, inflow != NULL);
    contour->n = chain->n;
    const struct brv_octet_chain cells = {.n = chain->n,
                                          .capacity = chain->capacity,
                                          .sink = chain->sink,
                                          .link = chain->link,
                                          .heat = heat,
                                          .inflow = inflow};
    contour->steps.solve(contour->rise, contour->scratch, &cells, contour->pole, contour->n_octet);
}

/* ---- reading ---- */

struct complex_number {
    double re, im;
};

static struct complex_number product(struct complex_number a, struct complex_number b)
{
    return (struct complex_number){a.re * b.re - a.im * b.im, a.re * b.im + a.im * b.re};
}

static struct complex_number quotient(struct complex_number a, struct complex_number b)
{
    const double square = b.re * b.re + b.im * b.im;
    return (struct complex_number){(a.re * b.re + a.im * b.im) / square, (a.im * b.re - a.re * b.im) / square};
}

/* (e^a - 1) / a, near 0 by its series: the first term left out is a^9 / 10!, below 1e-15. */
static struct complex_number mean_of_exponential(struct complex_number a)
{
    if (a.re * a.re + a.im * a.im < SERIES_BELOW * SERIES_BELOW) {
        struct complex_number sum = {1.0, 0.0};
        for (double k = 9.0; k > 1.5; k -= 1.0) {
            sum = product(sum, (struct complex_number){a.re / k, a.im / k});
            sum.re += 1.0;
        }
        return sum;
    }
    const double size = exp(a.re);
    return quotient((struct complex_number){size * cos(a.im) - 1.0, size * sin(a.im)}, a);
}

/* What the poles of an octet are multiplied with before a reading. */
typedef struct complex_number (*factor_of)(struct complex_number pole, double width);

static struct complex_number for_pulse(struct complex_number pole, double width)
{
    return mean_of_exponential((struct complex_number){pole.re * width, pole.im * width});
}

static struct complex_number for_integral(struct complex_number pole, double width)
{
    (void)width;
    return quotient((struct complex_number){1.0, 0.0}, pole);
}

static void lay_weights(struct brv_octet weight[], const struct brv_contour *contour, factor_of factor, double width)
{
    for (size_t o = 0; o < contour->n_octet; o++)
        for (size_t l = 0; l < BRV_OCTET; l++) {
            const struct complex_number pole = {contour->pole[o].re[l], contour->pole[o].im[l]};
            const struct complex_number along = {contour->weight[o].re[l], contour->weight[o].im[l]};
            const struct complex_number all = product(along, factor(pole, width));
            weight[o].re[l] = all.re;
            weight[o].im[l] = all.im;
        }
}

static void multiply(struct brv_octet *product_of, const struct brv_octet *factor)
{
    for (size_t l = 0; l < BRV_OCTET; l++) {
        const double re = product_of->re[l], im = product_of->im[l];
        product_of->re[l] = re * factor->re[l] - im * factor->im[l];
        product_of->im[l] = re * factor->im[l] + im * factor->re[l];
    }
}

static void project_all(const struct brv_contour *contour, const struct brv_octet weight[], size_t n_gauge,
                        const struct brv_gauge gauge[])
{
    for (size_t o = 0; o < contour->n_octet; o++)
        for (size_t g = 0; g < n_gauge; g++) {
            struct brv_octet *sum = &contour->projected[o * BRV_CONTOUR_GAUGES + g];
            contour->steps.project(sum, contour->rise + o * contour->n + gauge[g].first, gauge[g].weight, gauge[g].n);
            multiply(sum, &weight[o]);
        }
}

/* Poles are in order, so all of an octet have died out when its first has: it is then below e^-80 of the others. */
static bool died_out(const struct brv_contour *contour, size_t octet, double time)
{
    return contour->pole[octet].re[0] * time < -80.0;
}

static double total(const double lane[BRV_OCTET])
{
    return ((lane[0] + lane[1]) + (lane[2] + lane[3])) + ((lane[4] + lane[5]) + (lane[6] + lane[7]));
}

static void read_projected(const struct brv_contour *contour, size_t n_gauge, double time, double *value, size_t stride)
{
    double sum[BRV_CONTOUR_GAUGES][BRV_OCTET] = {{0.0}};
    assert(time >= contour->from * (1.0 - SLACK) && time <= contour->to * (1.0 + SLACK));
    for (size_t o = 0; o < contour->n_octet && !died_out(contour, o, time); o++) {
        struct brv_octet turned;
        contour->steps.turn(&turned, &contour->pole[o], time);
        contour->steps.add(sum, contour->projected + o * BRV_CONTOUR_GAUGES, &turned, n_gauge);
    }
    for (size_t g = 0; g < n_gauge; g++) value[g * stride] = total(sum[g]);
}

static void read_weighed(const struct brv_contour *contour, const struct brv_octet weight[], size_t n_gauge,
                         const struct brv_gauge gauge[], size_t n_time, const double time[], double value[])
{
    for (size_t first = 0; first < n_gauge; first += BRV_CONTOUR_GAUGES) {
        const size_t left = n_gauge - first, n = left < BRV_CONTOUR_GAUGES ? left : BRV_CONTOUR_GAUGES;
        project_all(contour, weight, n, gauge + first);
        for (size_t i = 0; i < n_time; i++) read_projected(contour, n, time[i], value + first * n_time + i, n_time);
    }
}

void brv_contour_read(const struct brv_contour *contour, size_t n_gauge, const struct brv_gauge gauge[], size_t n_time,
                      const double time[], double value[])
{
    read_weighed(contour, contour->weight, n_gauge, gauge, n_time, time, value);
}

void brv_contour_read_pulse(const struct brv_contour *contour, double width, size_t n_gauge,
                            const struct brv_gauge gauge[], size_t n_time, const double time[], double value[])
{
    struct brv_octet weight[BRV_CONTOUR_MOST_OCTETS];
    for (size_t i = 0; i < n_time; i++) assert(time[i] + width <= contour->to * (1.0 + SLACK));
    lay_weights(weight, contour, for_pulse, width);
    read_weighed(contour, weight, n_gauge, gauge, n_time, time, value);
}

double brv_contour_gathered(const struct brv_contour *contour, const struct brv_gauge *gauge, double time)
{
    struct brv_octet weight[BRV_CONTOUR_MOST_OCTETS];
    double value;
    lay_weights(weight, contour, for_integral, 0.0);
    read_weighed(contour, weight, 1, gauge, 1, &time, &value);
    return value;
}

void brv_contour_state(const struct brv_contour *contour, double time, double rise[])
{
    double(*sum)[BRV_OCTET] = (double(*)[BRV_OCTET])contour->scratch->re;
    assert(time >= contour->from * (1.0 - SLACK) && time <= contour->to * (1.0 + SLACK));
    memset(sum, 0, contour->n * sizeof *sum);
    for (size_t o = 0; o < contour->n_octet && !died_out(contour, o, time); o++) {
        struct brv_octet turned;
        contour->steps.turn(&turned, &contour->pole[o], time);
        multiply(&turned, &contour->weight[o]);
        contour->steps.add(sum, contour->rise + o * contour->n, &turned, contour->n);
    }
    for (size_t i = 0; i < contour->n; i++) rise[i] = total(sum[i]);
}

/* ---- sums ---- */

struct brv_contour_sum brv_contour_no_sum(void)
{
    return (struct brv_contour_sum){.least = INFINITY};
}

static void join(struct brv_contour_sum *sum, const struct brv_contour *contour, const struct brv_octet weight[],
                 double since)
{
    for (size_t o = 0; o < contour->n_octet && !died_out(contour, o, since); o++) {
        struct brv_octet turned;
        contour->steps.turn(&turned, &contour->pole[o], since);
        multiply(&turned, &weight[o]);
        for (size_t l = 0; l < BRV_OCTET; l++) {
            sum->weight[o].re[l] += turned.re[l];
            sum->weight[o].im[l] += turned.im[l];
        }
    }
    sum->least = fmin(sum->least, since);
}

void brv_contour_join(struct brv_contour_sum *sum, const struct brv_contour *contour, double since)
{
    join(sum, contour, contour->weight, since);
}

void brv_contour_join_gathered(struct brv_contour_sum *sum, const struct brv_contour *contour, double since)
{
    struct brv_octet weight[BRV_CONTOUR_MOST_OCTETS];
    lay_weights(weight, contour, for_integral, 0.0);
    join(sum, contour, weight, since);
}

void brv_contour_project(struct brv_octet projected[], const struct brv_contour *contour, size_t n_gauge,
                         const struct brv_gauge gauge[])
{
    for (size_t g = 0; g < n_gauge; g++)
        for (size_t o = 0; o < contour->n_octet; o++)
            contour->steps.project(&projected[g * BRV_CONTOUR_MOST_OCTETS + o],
                                   contour->rise + o * contour->n + gauge[g].first, gauge[g].weight, gauge[g].n);
}

/* The weights `time` later; returns how many octets of them are alive. */
static size_t turn_sum(struct brv_octet turned[], const struct brv_contour *contour, const struct brv_contour_sum *sum,
                       double time)
{
    size_t o = 0;
    assert(sum->least + time >= contour->from * (1.0 - SLACK));
    for (; o < contour->n_octet && !died_out(contour, o, sum->least + time); o++) {
        contour->steps.turn(&turned[o], &contour->pole[o], time);
        multiply(&turned[o], &sum->weight[o]);
    }
    return o;
}

void brv_contour_add(double value[], size_t stride, const struct brv_contour *contour,
                     const struct brv_octet projected[], size_t n_gauge, const struct brv_contour_sum *sum, double time)
{
    struct brv_octet turned[BRV_CONTOUR_MOST_OCTETS];
    const size_t alive = turn_sum(turned, contour, sum, time);
    for (size_t g = 0; g < n_gauge; g++) {
        double lane[1][BRV_OCTET] = {{0.0}};
        for (size_t o = 0; o < alive; o++)
            contour->steps.add(lane, projected + g * BRV_CONTOUR_MOST_OCTETS + o, &turned[o], 1);
        value[g * stride] += total(lane[0]);
    }
}

void brv_contour_add_state(double rise[], const struct brv_contour *contour, const struct brv_contour_sum *sum)
{
    double(*lane)[BRV_OCTET] = (double(*)[BRV_OCTET])contour->scratch->re;
    memset(lane, 0, contour->n * sizeof *lane);
    for (size_t o = 0; o < contour->n_octet && !died_out(contour, o, sum->least); o++)
        contour->steps.add(lane, contour->rise + o * contour->n, &sum->weight[o], contour->n);
    for (size_t i = 0; i < contour->n; i++) rise[i] += total(lane[i]);
}
