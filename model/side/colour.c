#include "side/colour.h"

#include "base/array.h"
#include "base/constants.h"
#include "base/team.h"
#include "light/layered.h"
#include "scenario/film.h"
#include "scenario/keys.h"
#include "tissue/tissue.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>

#include <math.h>
#include <stdlib.h>

enum { N_RAY = 8, N_CORNER = 9, MOST_STEPS = 60 }; /* corner 0 is the middle */

#define PALE_SCATTERING 0.6  /* in vivo over in vitro, 0.55-0.65: [skin-measured], abstract */
#define MOST_PIGMENT    0.6  /* the key's own bound */
#define ITA_TOLERANCE   1e-4 /* of a root, in degrees or in L* */
#define SHARE_STEPS     1e9 /* in 1, so closely is a share told, 1e-6 degrees: other machines then find the very same */

static const struct brv_colour_corner middle = {1.0, (double)NAN, false};

/* ---- one wavelength ---- */

static bool given(const struct brv_layer_ask *layer, const char *name)
{
    return brv_key_given(layer, BRV_SCOPE_LAYER, name);
}

static bool scattering_given(const struct brv_layer_ask *layer)
{
    return given(layer, "scattering") || given(layer, "reduced_scattering");
}

/* The skin that is measured: bare, in air, and in this corner. */
static void put_into(struct brv_scenario *skin, const struct brv_scenario *ask, size_t site,
                     const struct brv_colour_corner *corner)
{
    *skin = brv_film_removed(ask);
    skin->surface.index = 1.0;
    for (size_t i = 0; i < skin->skin[site].n_layer; i++) {
        struct brv_layer_ask *layer = &skin->skin[site].layer[i];
        if (layer->kind == BRV_DERMIS && !isnan(corner->blood) && !given(layer, "blood")) layer->blood = corner->blood;
    }
}

static brv_status reflect(double *diffuse, double *mirror, struct brv_scenario *skin, size_t site, double wavelength,
                          double scattering, struct brv_error *error)
{
    struct brv_tissue tissue;
    struct brv_medium medium[BRV_MOST_LAYERS];
    struct brv_layered light;
    skin->beam.wavelength = wavelength;
    brv_tissue_resolve(&tissue, skin, site);
    for (size_t i = 0; i < tissue.n_layer; i++) {
        const struct brv_layer *layer = &tissue.layer[i];
        const double factor = scattering_given(&skin->skin[site].layer[i]) ? 1.0 : scattering;
        medium[i] = (struct brv_medium){layer->thickness, layer->absorption, factor * layer->scattering,
                                        layer->anisotropy, layer->index};
    }
    const struct brv_layered_ask ask = {.n_medium = tissue.n_layer,
                                        .medium = medium,
                                        .outside_index = tissue.outside_index,
                                        .below_index = tissue.below_index,
                                        .cosine = 1.0,
                                        .n_ray = N_RAY};
    const brv_status status = brv_layered_solve(&light, &ask, error);
    if (status) return status;
    *diffuse = light.reflected_diffuse;
    *mirror = light.reflected_specular;
    brv_layered_free(&light);
    return BRV_OK;
}

/* ---- spectra ---- */

struct spectrum {
    const struct brv_scenario *ask;
    size_t site;
    const double *wavelength;
    double *diffuse, *mirror;
};

static brv_status one_wavelength(void *context, size_t item, struct brv_error *error)
{
    const struct spectrum *work = context;
    struct brv_scenario skin;
    double mirror;
    put_into(&skin, work->ask, work->site, &middle);
    const brv_status status =
        reflect(&work->diffuse[item], &mirror, &skin, work->site, work->wavelength[item], middle.scattering, error);
    if (!status && work->mirror) work->mirror[item] = mirror;
    return status;
}

brv_status brv_colour_spectrum(double diffuse[], double mirror[], const struct brv_scenario *ask, size_t site, size_t n,
                               const double wavelength[], unsigned threads, struct brv_error *error)
{
    struct spectrum work = {ask, site, wavelength, diffuse, mirror};
    return brv_team_run(n, threads, one_wavelength, &work, error);
}

static double wavelength_at(size_t i)
{
    return (BRV_COLOUR_FIRST + BRV_COLOUR_STEP * (double)i) / 1e9;
}

struct brv_colour brv_colour_of(const double reflectance[BRV_N_COLOUR])
{
    double white[3], xyz[3];
    brv_cie_sum(white, BRV_COLOUR_FIRST, BRV_COLOUR_STEP, BRV_N_COLOUR, NULL);
    brv_cie_sum(xyz, BRV_COLOUR_FIRST, BRV_COLOUR_STEP, BRV_N_COLOUR, reflectance);
    const struct brv_lab lab = brv_cie_lab(xyz, white);
    return (struct brv_colour){lab, brv_cie_ita(lab.lightness, lab.yellow)};
}

brv_status brv_colour_solve(struct brv_colour *colour, const struct brv_scenario *ask, size_t site, unsigned threads,
                            struct brv_error *error)
{
    double wavelength[BRV_N_COLOUR], diffuse[BRV_N_COLOUR];
    *colour = (struct brv_colour){.ita = (double)NAN};
    for (size_t i = 0; i < BRV_N_COLOUR; i++) wavelength[i] = wavelength_at(i);
    const brv_status status = brv_colour_spectrum(diffuse, NULL, ask, site, BRV_N_COLOUR, wavelength, threads, error);
    if (!status) *colour = brv_colour_of(diffuse);
    return status;
}

/* Colour of a skin that was put into a corner. */
static brv_status measure(struct brv_colour *colour, struct brv_scenario *skin, size_t site,
                          const struct brv_colour_corner *corner, struct brv_error *error)
{
    double reflectance[BRV_N_COLOUR];
    *colour = (struct brv_colour){.ita = (double)NAN};
    for (size_t i = 0; i < BRV_N_COLOUR; i++) {
        double mirror;
        const brv_status status =
            reflect(&reflectance[i], &mirror, skin, site, wavelength_at(i), corner->scattering, error);
        if (status) return status;
        if (corner->mirror) reflectance[i] += mirror;
    }
    *colour = brv_colour_of(reflectance);
    return BRV_OK;
}

brv_status brv_colour_with(struct brv_colour *colour, const struct brv_scenario *ask, double melanosomes,
                           const struct brv_colour_corner *corner, struct brv_error *error)
{
    struct brv_scenario skin;
    if (!corner) corner = &middle;
    put_into(&skin, ask, BRV_NEIGHBOUR, corner);
    brv_skin_pigment(&skin.skin[BRV_NEIGHBOUR], melanosomes, BRV_BASAL_SHARE);
    return measure(colour, &skin, BRV_NEIGHBOUR, corner, error);
}

/* ---- corners ---- */

/* Corner 0 is the middle; the others are all combinations of two blood contents, two scatterings, mirror or none. */
static struct brv_colour_corner corner_of(size_t which)
{
    const struct brv_key *blood = &brv_keys[brv_key_find(BRV_SCOPE_LAYER, "blood")];
    const size_t bits = which - 1;
    if (which == 0) return middle;
    return (struct brv_colour_corner){bits & 1 ? PALE_SCATTERING : 1.0,
                                      bits & 2 ? blood->high[BRV_DERMIS] : blood->low[BRV_DERMIS], (bits & 4) != 0};
}

struct corners {
    const struct brv_scenario *ask;
    size_t site;
    struct brv_colour colour[N_CORNER];
};

static brv_status one_spread(void *context, size_t item, struct brv_error *error)
{
    struct corners *work = context;
    struct brv_scenario skin;
    const struct brv_colour_corner corner = corner_of(item);
    put_into(&skin, work->ask, work->site, &corner);
    return measure(&work->colour[item], &skin, work->site, &corner, error);
}

/* fmin and fmax leave out what is not a number: an angle that some corners do not have. */
static void widen(struct brv_colour_range *range, const struct brv_colour *colour)
{
    const struct brv_lab *lab = &colour->lab;
    struct brv_lab *low = &range->low.lab, *high = &range->high.lab;
    *low = (struct brv_lab){fmin(low->lightness, lab->lightness), fmin(low->red, lab->red),
                            fmin(low->yellow, lab->yellow)};
    *high = (struct brv_lab){fmax(high->lightness, lab->lightness), fmax(high->red, lab->red),
                             fmax(high->yellow, lab->yellow)};
    range->low.ita = fmin(range->low.ita, colour->ita);
    range->high.ita = fmax(range->high.ita, colour->ita);
}

brv_status brv_colour_spread(struct brv_colour_range *range, const struct brv_scenario *ask, size_t site,
                             unsigned threads, struct brv_error *error)
{
    struct corners work = {.ask = ask, .site = site};
    const struct brv_colour none = {.ita = (double)NAN};
    *range = (struct brv_colour_range){none, none, none};
    const brv_status status = brv_team_run(N_CORNER, threads, one_spread, &work, error);
    if (status) return status;
    *range = (struct brv_colour_range){work.colour[0], work.colour[0], work.colour[0]};
    for (size_t k = 1; k < N_CORNER; k++) widen(range, &work.colour[k]);
    return BRV_OK;
}

/* ---- from the angle to the pigment ---- */

struct inversion {
    const struct brv_scenario *ask;
    size_t n;
    const double *ita;
    double *share; /* [N_CORNER][n]; NAN where there is none */
    struct brv_colour clear[N_CORNER], darkest[N_CORNER];
};

struct search {
    const struct brv_scenario *ask;
    const struct brv_colour_corner *corner;
    double (*number)(const struct brv_colour *); /* of a colour: falls as pigment grows */
    double wanted;
    double best, best_miss; /* the root that came nearest, so that none is tried twice */
    brv_status status;
    struct brv_error *error;
};

/* The angle, carried on past -90 degrees where b* turns blue, so that it goes on falling. */
static double angle(const struct brv_colour *colour)
{
    return 180.0 / BRV_PI * atan2(colour->lab.lightness - 50.0, colour->lab.yellow);
}

static double lightness(const struct brv_colour *colour)
{
    return colour->lab.lightness;
}

/* Over the root of the share, in which the angle is nearly straight. */
static double miss(double root, void *context)
{
    struct search *search = context;
    struct brv_colour colour;
    if (search->status) return 0.0;
    search->status = brv_colour_with(&colour, search->ask, root * root, search->corner, search->error);
    if (search->status) return 0.0;
    const double missed = search->number(&colour) - search->wanted;
    if (fabs(missed) < search->best_miss) {
        search->best = root;
        search->best_miss = fabs(missed);
    }
    return missed;
}

static brv_status find_root(double *share, struct search *search)
{
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    gsl_function function = {miss, search};
    if (!solver) return brv_error_raise(search->error, BRV_MEMORY, "colour");
    int state = gsl_root_fsolver_set(solver, &function, 0.0, sqrt(MOST_PIGMENT));
    for (int i = 0; i < MOST_STEPS && !state && search->best_miss > ITA_TOLERANCE && !search->status; i++)
        state = gsl_root_fsolver_iterate(solver);
    *share = round(search->best * search->best * SHARE_STEPS) / SHARE_STEPS;
    gsl_root_fsolver_free(solver);
    if (search->status) return search->status;
    if (search->best_miss <= ITA_TOLERANCE) return BRV_OK;
    return brv_error_raise_number(search->error, BRV_NUMERICS, "colour", search->best_miss, ITA_TOLERANCE);
}

static brv_status one_corner(void *context, size_t item, struct brv_error *error)
{
    struct inversion *work = context;
    const struct brv_colour_corner corner = corner_of(item);
    brv_status status = brv_colour_with(&work->clear[item], work->ask, 0.0, &corner, error);
    if (!status) status = brv_colour_with(&work->darkest[item], work->ask, MOST_PIGMENT, &corner, error);
    for (size_t i = 0; i < work->n && !status; i++) {
        struct search search = {work->ask, &corner, angle, work->ita[i], 0.0, INFINITY, BRV_OK, error};
        double *share = &work->share[item * work->n + i];
        if (!(work->ita[i] <= angle(&work->clear[item])))
            *share = item ? 0.0 : (double)NAN;
        else if (!(work->ita[i] >= angle(&work->darkest[item])))
            *share = item ? MOST_PIGMENT : (double)NAN;
        else
            status = find_root(share, &search);
    }
    return status;
}

static void gather(struct brv_colour_pigment pigment[], struct brv_colour_bounds *bounds, const struct inversion *work)
{
    *bounds = (struct brv_colour_bounds){work->clear[0], work->darkest[0], INFINITY, -INFINITY};
    for (size_t k = 0; k < N_CORNER; k++) {
        bounds->least_lightness = fmin(bounds->least_lightness, work->darkest[k].lab.lightness);
        bounds->greatest_lightness = fmax(bounds->greatest_lightness, work->clear[k].lab.lightness);
    }
    for (size_t i = 0; i < work->n; i++) {
        const double value = work->share[i];
        pigment[i] = (struct brv_colour_pigment){!isnan(value), value, value, value};
        for (size_t k = 1; k < N_CORNER && pigment[i].possible; k++) {
            pigment[i].low = fmin(pigment[i].low, work->share[k * work->n + i]);
            pigment[i].high = fmax(pigment[i].high, work->share[k * work->n + i]);
        }
    }
}

brv_status brv_colour_invert(struct brv_colour_pigment pigment[], struct brv_colour_bounds *bounds,
                             const struct brv_scenario *ask, size_t n, const double ita[], unsigned threads,
                             struct brv_error *error)
{
    struct inversion work = {.ask = ask, .n = n, .ita = ita, .share = brv_array_new(N_CORNER * (n ? n : 1))};
    *bounds = (struct brv_colour_bounds){.least_lightness = (double)NAN, .greatest_lightness = (double)NAN};
    for (size_t i = 0; i < n; i++) pigment[i] = (struct brv_colour_pigment){.possible = false};
    if (!work.share) return brv_error_raise(error, BRV_MEMORY, "colour");
    const brv_status status = brv_team_run(N_CORNER, threads, one_corner, &work, error);
    if (!status) gather(pigment, bounds, &work);
    free(work.share);
    return status;
}

brv_status brv_colour_by_lightness(double *share, const struct brv_scenario *ask, double wanted,
                                   struct brv_error *error)
{
    struct brv_colour clear, darkest;
    struct search search = {ask, &middle, lightness, wanted, 0.0, INFINITY, BRV_OK, error};
    *share = 0.0;
    brv_status status = brv_colour_with(&clear, ask, 0.0, NULL, error);
    if (!status) status = brv_colour_with(&darkest, ask, MOST_PIGMENT, NULL, error);
    if (status || wanted >= clear.lab.lightness) return status;
    *share = MOST_PIGMENT;
    return wanted <= darkest.lab.lightness ? BRV_OK : find_root(share, &search);
}
