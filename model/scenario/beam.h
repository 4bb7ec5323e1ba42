/* The light that reaches the surface.
 * `fluence` is energy over the area of the spot, as a meter and a spot size give it. On the axis a flat beam has
 * that fluence and a Gaussian one exactly twice it (`spot` is then the 1/e2 diameter).                        */
#ifndef BRV_SCENARIO_BEAM_H
#define BRV_SCENARIO_BEAM_H

enum brv_beam_profile { BRV_PROFILE_FLAT, BRV_PROFILE_GAUSSIAN };

enum brv_method { BRV_METHOD_SPOT, BRV_METHOD_LAYERED, BRV_METHOD_SAMPLED };

struct brv_beam {
    unsigned given;
    double wavelength; /* [m] */
    double spot;       /* diameter [m] */
    int profile;       /* enum brv_beam_profile */
    double fluence;    /* one of these two is given, the other follows; see brv_scenario_fill [J/m2] */
    double energy;     /* [J] */
    int method;        /* enum brv_method: which kernel answers */
    double photons;    /* sampled: walk at most so many */
    double error;      /* sampled: or until the relative standard error on the axis is below this [1] */
    double seed;       /* sampled: whole number */
};

double brv_beam_area(const struct brv_beam *beam);         /* pi spot^2 / 4 [m2]  */
double brv_beam_axis_fluence(const struct brv_beam *beam); /* on the axis [J/m2]  */

#endif
