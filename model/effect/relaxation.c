#include "effect/relaxation.h"

const struct brv_relaxation brv_relaxations[] = {
    {4.0, "diffusion length", "heat spreads one diameter: d^2 = 4 alpha t"},
    {13.7736, "sphere, centre to 1/e", "evenly heated sphere in like surroundings: its centre is down to 1/e"},
    {16.0, "Gaussian cylinder, half", "centre of a Gaussian cylinder of 1/e diameter d is down to 1/2"},
    {18.9278, "sphere, centre to 1/2", "evenly heated sphere in like surroundings: its centre is down to 1/2"},
    {22.2289, "sphere, mean to 1/e", "evenly heated sphere in like surroundings: its mean is down to 1/e"},
    {24.0, "spread in space", "root-mean-square spread in three dimensions: kappa = 8 n, n = 3"},
    {27.2387, "Gaussian sphere, half", "centre of a Gaussian sphere of 1/e diameter d is down to 1/2"},
    {39.4784, "first mode", "slowest mode of a sphere whose surface is held cold: one e-fold, kappa = 4 pi^2"},
    {39.9172, "sphere, mean to 1/2", "evenly heated sphere in like surroundings: its mean is down to 1/2"},
};

const size_t brv_n_relaxations = sizeof brv_relaxations / sizeof *brv_relaxations;

double brv_relaxation_time(double kappa, double diameter, double diffusivity)
{
    return diameter * diameter / (kappa * diffusivity);
}
