#include "light/wave.h"

#include "light/linear.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

/* Absorption below this share of the least other loss is raised to it: without any, the slowest mode would be degenerate.
 * It fades over a thousand free paths then, farther than any spot is wide. */
static const double LEAST_ABSORPTION = 1e-7;

/* A layer with few turns of direction per lateral wave cannot be told in so few shapes: their modes become all alike.
 * Each order then loses at least this share of k l (l + 1) / 2, as if directions blurred a little. At k = 0 nothing is
 * changed, and neither is skin at any k that matters. */
static const double BLUR = 0.03;

/* A beam that fades exactly like a mode is set apart from it by this much. */
static const double NEAREST_SLOPE = 1e-6;

static double moment(const struct brv_medium *medium, size_t l)
{
    return pow(medium->anisotropy, (double)l);
}

void brv_wave_build(struct brv_wave *wave, const struct brv_medium *medium, double least_loss)
{
    const double peak = moment(medium, BRV_N_DEGREE);
    *wave = (struct brv_wave){.medium = *medium};
    for (size_t l = 0; l < BRV_N_DEGREE; l++) {
        wave->loss[l] = medium->absorption + medium->scattering * (1.0 - moment(medium, l));
        if (l > 0) wave->loss[l] = fmax(wave->loss[l], least_loss);
        wave->kindled[l] = medium->scattering * (moment(medium, l) - peak) * sqrt(2.0 * (double)l + 1.0);
    }
    wave->loss[0] = fmax(wave->loss[0], LEAST_ABSORPTION * wave->loss[1]);
    wave->extinction = medium->absorption + medium->scattering * (1.0 - peak);
    wave->leg.index = medium->index;
    wave->leg.depth = wave->extinction > 0.0 ? wave->extinction * medium->thickness : 0.0;
}

/* The modes without k, found again only where blurring has changed the losses. */
static brv_status find_tilt(struct brv_wave *wave, double frequency, struct brv_error *error)
{
    double loss[BRV_N_DEGREE];
    bool found = true;
    for (size_t l = 0; l < BRV_N_DEGREE; l++) {
        loss[l] = fmax(wave->loss[l], 0.5 * BLUR * frequency * (double)(l * (l + 1)));
        if (loss[l] != wave->tilt.loss[l]) found = false;
    }
    if (found) return BRV_OK;
    return brv_tilt_build(&wave->tilt, loss, error);
}

static void choose_slope(struct brv_wave *wave)
{
    wave->slope = wave->extinction;
    for (size_t mode = 0; mode < BRV_N_ODD; mode++)
        if (fabs(wave->modes.fade[mode] - wave->slope) < NEAREST_SLOPE * wave->slope)
            wave->slope *= 1.0 + 3.0 * NEAREST_SLOPE;
}

enum { N_SHAPE = BRV_N_EVEN + BRV_N_ODD };

/* loss + k across - s along, even shapes first. */
static void fill_operator(double *matrix, const struct brv_wave *wave, const struct brv_harmonics *shapes,
                          double frequency)
{
    for (size_t i = 0; i < BRV_N_EVEN; i++) {
        double *row = matrix + i * N_SHAPE;
        for (size_t j = 0; j < BRV_N_EVEN; j++) row[j] = frequency * shapes->across_even[i * BRV_N_EVEN + j];
        for (size_t j = 0; j < BRV_N_ODD; j++) row[BRV_N_EVEN + j] = -wave->slope * shapes->along[i * BRV_N_ODD + j];
        row[i] += wave->tilt.loss[shapes->degree_of_even[i]];
    }
    for (size_t i = 0; i < BRV_N_ODD; i++) {
        double *row = matrix + (BRV_N_EVEN + i) * N_SHAPE;
        for (size_t j = 0; j < BRV_N_EVEN; j++) row[j] = -wave->slope * shapes->along[j * BRV_N_ODD + i];
        for (size_t j = 0; j < BRV_N_ODD; j++) row[BRV_N_EVEN + j] = frequency * shapes->across_odd[i * BRV_N_ODD + j];
        row[BRV_N_EVEN + i] += wave->tilt.loss[shapes->degree_of_odd[i]];
    }
}

static brv_status find_glow(struct brv_wave *wave, const struct brv_harmonics *shapes, double frequency,
                            struct brv_error *error)
{
    double matrix[N_SHAPE * N_SHAPE], glow[N_SHAPE] = {0};
    fill_operator(matrix, wave, shapes, frequency);
    for (size_t l = 0; l < BRV_N_DEGREE; l++) glow[shapes->place[l][0] + (l % 2 ? BRV_N_EVEN : 0)] = wave->kindled[l];
    const brv_status status = brv_linear_solve(matrix, glow, N_SHAPE, 1, error);
    if (status) return status;
    memcpy(wave->glow_even, glow, sizeof wave->glow_even);
    memcpy(wave->glow_odd, glow + BRV_N_EVEN, sizeof wave->glow_odd);
    return BRV_OK;
}

brv_status brv_wave_fill(struct brv_wave *wave, const struct brv_harmonics *shapes, double frequency,
                         struct brv_error *error)
{
    const brv_status status = find_tilt(wave, frequency, error);
    if (status) return status;
    brv_tilt_modes_fill(&wave->modes, &wave->tilt, shapes, frequency);
    for (size_t mode = 0; mode < BRV_N_ODD; mode++)
        wave->through[mode] = exp(-wave->modes.fade[mode] * wave->medium.thickness);
    choose_slope(wave);
    memset(wave->glow_even, 0, sizeof wave->glow_even);
    memset(wave->glow_odd, 0, sizeof wave->glow_odd);
    return wave->kindled[0] > 0.0 ? find_glow(wave, shapes, frequency, error) : BRV_OK;
}

double brv_wave_beam_down(const struct brv_wave *wave, double t)
{
    return wave->leg.down * exp(-wave->slope * t);
}

double brv_wave_beam_up(const struct brv_wave *wave, double t)
{
    return wave->leg.up > 0.0 ? wave->leg.up * exp(-wave->slope * (wave->medium.thickness - t)) : 0.0;
}

/* Only modes with m' = 0 hold any fluence, and they come first. */
double brv_wave_fluence(const struct brv_wave *wave, double t)
{
    double sum = wave->glow_even[0] * (brv_wave_beam_down(wave, t) + brv_wave_beam_up(wave, t));
    for (size_t mode = 0; mode < BRV_N_DEGREE / 2; mode++) {
        const double fade = wave->modes.fade[mode];
        double amount = wave->down[mode] * exp(-fade * t);
        if (!isinf(wave->medium.thickness)) amount += wave->up[mode] * exp(-fade * (wave->medium.thickness - t));
        sum += wave->modes.even[mode] * amount;
    }
    return sum;
}
