/* What the skin is at one wavelength: every layer's optical and thermal numbers, and its grain's.
 *     mu_a = f mu_mel F + f_b [S mu_oxy + (1 - S) mu_deoxy] + W mu_water + b (1 - f - f_b) mu_base
 *     heat capacity = f (rho c)_grain + (1 - f) (rho c)_host;   conductivity = host
 * The layer uses the same shaded grain absorption as the grain itself, so grains and layer hold the same energy.
 * Source: [jacques-2008] for the mixture.                                                                    */
#ifndef BRV_TISSUE_TISSUE_H
#define BRV_TISSUE_TISSUE_H

#include "scenario/scenario.h"

#include <stdbool.h>

struct brv_layer {
    int kind;           /* enum brv_layer_kind; BRV_FILM only as layer 0 */
    double thickness;   /* INFINITY for the endless one [m] */
    double melanosomes; /* volume share of grains [1] */
    double absorption;  /* all of it; the parts below add up to it unless given outright [1/m] */
    double absorption_pigment, absorption_blood, absorption_water, absorption_baseline; /* [1/m] */
    double scattering;                                                                  /* mu_s [1/m] */
    double anisotropy;                                                                  /* [1] */
    double index;                                                                       /* [1] */
    double conductivity;                                                                /* [W/m/K] */
    double heat_capacity;      /* per volume, grains included [J/m3/K] */
    double host_heat_capacity; /* per volume, without them [J/m3/K] */
    double perfusion;          /* heat taken away by blood per volume and kelvin of rise [W/m3/K] */
    bool absorption_given, scattering_given;
};

struct brv_grain {
    size_t layer;              /* the layer it sits in                         */
    double radius;             /* [m]                                          */
    double cell_radius;        /* INFINITY where it is alone [m]               */
    double absorption;         /* inside a grain, without shading [1/m]        */
    double shading;            /* F [1]                                        */
    double conductivity;       /* [W/m/K]                                      */
    double heat_capacity;      /* per volume [J/m3/K]                          */
    double host_conductivity;  /* around it, in its cell [W/m/K]            */
    double host_heat_capacity; /* around it: the layer without its grains [J/m3/K] */
    double host_absorption;    /* of what is not grain, per volume of host [1/m]   */
    double darkness_spread;    /* standard deviation of ln darkness among grains [1] */
    double diameter_spread;    /* the same of ln diameter [1] */
};

struct brv_tissue {
    double wavelength;    /* [m] */
    double outside_index; /* [1] */
    double below_index;   /* under a finite stack [1] */
    size_t n_layer;
    struct brv_layer layer[BRV_MOST_LAYERS];
    struct brv_grain grain;
};

/* The skin of one site (enum brv_site_index) of a checked scenario. */
void brv_tissue_resolve(struct brv_tissue *tissue, const struct brv_scenario *ask, size_t site);

/* A grain of this skin with another diameter, in another layer. */
struct brv_grain brv_tissue_grain(const struct brv_tissue *tissue, size_t layer, double diameter);

/* Thickness of a film on the skin, which lies above depth 0; 0 without one [m]. */
double brv_tissue_above(const struct brv_tissue *tissue);

/* Diffusion depth 1/sqrt(3 mu_a (mu_a + mu_s')) of one layer [m]; INFINITY without absorption. */
double brv_tissue_diffusion_depth(const struct brv_layer *layer);

#endif
