#include "side/hazard.h"

#include "base/constants.h"
#include "scenario/film.h"
#include "scenario/keys.h"
#include "side/shares.h"

#include <math.h>

enum { MOST_HALVINGS = 200 };
#define CLOSE 1e-14 /* of two distances between which the limit lies */

double brv_hazard_density(double exposure, double limit)
{
    return fmax(log10(exposure / limit), 0.0);
}

double brv_hazard_pupil(double energy)
{
    return energy / (0.25 * BRV_PI * BRV_PUPIL * BRV_PUPIL);
}

double brv_hazard_beam(double energy, double limit, double divergence, double diameter)
{
    return fmax((sqrt(4.0 * energy / (BRV_PI * limit)) - diameter) / divergence, 0.0);
}

/* ---- scattered light ---- */

static double limit_from(struct brv_exposure_ask ask, double angle)
{
    struct brv_exposure exposure;
    ask.angle = angle;
    brv_exposure_solve(&exposure, &ask);
    return exposure.limit;
}

/* Does the eye, so far away, get more than its limit? Once it does not, it never does farther out: C_E grows with the
 * square of the angle at most.                                                                                       */
static bool is_over(const struct brv_exposure_ask *ask, double energy, double width, double distance)
{
    return energy / (BRV_PI * distance * distance) > limit_from(*ask, width / distance);
}

void brv_hazard_scattered(struct brv_scattered *scattered, const struct brv_exposure_ask *ask, double energy,
                          double width)
{
    *scattered = (struct brv_scattered){.point = sqrt(energy / (BRV_PI * limit_from(*ask, 0.0))), .extent = 1.0};
    double over = width, under = scattered->point;
    if (under <= over || !is_over(ask, energy, width, over)) return;
    for (int i = 0; i < MOST_HALVINGS && under - over > CLOSE * under; i++) {
        const double middle = 0.5 * (over + under);
        *(is_over(ask, energy, width, middle) ? &over : &under) = middle;
    }
    scattered->distance = under;
    scattered->angle = width / under;
    scattered->extent = brv_exposure_factor_e(ask->edition, scattered->angle, ask->width);
}

/* ---- the skin's own light ---- */

/* A film may be gone after one pulse: what it takes up is no shield for the next. */
static brv_status solve_reflectance(struct brv_hazard *hazard, const struct brv_scenario *ask, struct brv_error *error)
{
    static const double darkness[] = {1.0, BRV_DARKNESS_HIGH, BRV_DARKNESS_LOW};
    const struct brv_scenario clean = brv_film_removed(ask);
    struct brv_light_shares shares[3];
    for (size_t i = 0; i < 3; i++) {
        const brv_status status = brv_shares_solve(&shares[i], &clean, darkness[i], error);
        if (status) return status;
    }
    const double given = ask->room.reflectance;
    hazard->mirrored = shares[0].mirrored;
    hazard->reflectance = (struct brv_bounds){shares[0].back, shares[1].back, shares[2].back};
    hazard->reflectance_given = brv_key_given(&ask->room, BRV_SCOPE_ROOM, "reflectance");
    if (hazard->reflectance_given) hazard->reflectance = (struct brv_bounds){given, given, given};
    return BRV_OK;
}

/* ---- one edition ---- */

/* Width of the spot as a source, seen from where a person stands: 1/e edges, as for the beam. */
static double source_of(const struct brv_scenario *ask)
{
    const double width = ask->beam.profile == BRV_PROFILE_GAUSSIAN ? BRV_ROOT_HALF * ask->beam.spot : ask->beam.spot;
    return width * cos(ask->room.view);
}

static struct brv_exposure_ask ask_of(const struct brv_scenario *ask, int edition, int organ)
{
    return (struct brv_exposure_ask){.edition = edition,
                                     .organ = organ,
                                     .wavelength = ask->beam.wavelength,
                                     .width = ask->pulse.width,
                                     .rate = ask->room.rate,
                                     .stay = ask->room.stay};
}

/* 1/e edges carry 63 % of a gaussian beam and lie at 1/sqrt 2 of its 1/e2 edges. */
static void describe_beam(struct brv_hazard *hazard, const struct brv_room_ask *room)
{
    if (!(room->beam > 0.0)) return;
    const bool lens = room->lens > 0.0;
    hazard->divergence = BRV_ROOT_HALF * (lens ? room->beam / room->lens : room->divergence);
    hazard->beam = lens ? 0.0 : BRV_ROOT_HALF * room->beam;
}

static void judge_person(struct brv_hazard_edition *edition, const struct brv_hazard *hazard,
                         const struct brv_scenario *ask, const struct brv_exposure_ask *eye)
{
    const double distance = ask->room.distance, cosine = cos(ask->room.view);
    edition->person = edition->person_extent = edition->person_beam = NAN;
    if (!(distance > 0.0)) return;
    const double exposure = hazard->reflectance.value * hazard->energy * cosine / (BRV_PI * distance * distance);
    edition->person = exposure / edition->exposure[BRV_EYE].limit;
    edition->person_extent = exposure / limit_from(*eye, source_of(ask) / distance);
    if (!(hazard->divergence > 0.0)) return;
    const double wide = hazard->beam + hazard->divergence * distance;
    edition->person_beam =
        fmin(4.0 * hazard->energy / (BRV_PI * wide * wide), hazard->pupil) / edition->exposure[BRV_EYE].limit;
}

static void judge(struct brv_hazard_edition *edition, const struct brv_hazard *hazard, const struct brv_scenario *ask,
                  int which)
{
    const struct brv_exposure_ask eye = ask_of(ask, which, BRV_EYE), skin = ask_of(ask, which, BRV_SKIN);
    const double sent = hazard->energy * cos(ask->room.view), width = source_of(ask);
    const bool covers_eye = brv_exposure_solve(&edition->exposure[BRV_EYE], &eye);
    const bool covers_skin = brv_exposure_solve(&edition->exposure[BRV_SKIN], &skin);
    if (!covers_eye || !covers_skin) return;
    const double limit = edition->exposure[BRV_EYE].limit;
    edition->density_pupil = brv_hazard_density(hazard->pupil, limit);
    edition->density_spot = brv_hazard_density(hazard->fluence, limit);
    edition->density = fmax(edition->density_pupil, edition->density_spot);
    edition->pupil_energy = limit / brv_hazard_pupil(1.0);
    edition->beam = hazard->divergence > 0.0 ? brv_hazard_beam(hazard->energy, limit, hazard->divergence, hazard->beam)
                                             : (double)NAN;
    brv_hazard_scattered(&edition->scattered, &eye, hazard->reflectance.value * sent, width);
    brv_hazard_scattered(&edition->least, &eye, hazard->reflectance.low * sent, width);
    brv_hazard_scattered(&edition->most, &eye, hazard->reflectance.high * sent, width);
    edition->skin_ratio = hazard->fluence / edition->exposure[BRV_SKIN].limit;
    edition->lid_ratio = hazard->lid.passes.value * hazard->fluence / limit;
    judge_person(edition, hazard, ask, &eye);
}

static bool is_asked(int edition, int word)
{
    return word == BRV_EDITION_BOTH || word == (edition == BRV_EU_2006 ? BRV_EDITION_EU_2006 : BRV_EDITION_ICNIRP_2013);
}

brv_status brv_hazard_solve(struct brv_hazard *hazard, const struct brv_scenario *ask, struct brv_error *error)
{
    *hazard = (struct brv_hazard){.energy = ask->beam.energy,
                                  .fluence = brv_beam_axis_fluence(&ask->beam),
                                  .pupil = brv_hazard_pupil(ask->beam.energy)};
    describe_beam(hazard, &ask->room);
    brv_status status = solve_reflectance(hazard, ask, error);
    if (!status) status = brv_lid_solve(&hazard->lid, ask, error);
    if (status) {
        *hazard = (struct brv_hazard){.energy = 0.0};
        return status;
    }
    for (int edition = 0; edition < BRV_N_EDITION; edition++) {
        hazard->edition[edition].asked = is_asked(edition, ask->room.edition);
        judge(&hazard->edition[edition], hazard, ask, edition);
    }
    return BRV_OK;
}
