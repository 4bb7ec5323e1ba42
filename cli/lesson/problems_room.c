/* Problems about eyes, skin and distances in the room. Which eyewear is worn is the laser protection adviser's. */
#include "lesson/problems.h"

#include "side/exposure.h"
#include "side/hazard.h"

#include <math.h>
#include <stdio.h>

#define SAY(value, unit) brv_problem_say(maker, value, unit)

static const char adviser[] =
    "A density is a number to understand; which eyewear is worn is the laser protection adviser's "
    "decision.";

static struct brv_exposure_ask ask_of(int edition, int organ, double wavelength, double width)
{
    return (struct brv_exposure_ask){.edition = edition, .organ = organ, .wavelength = wavelength, .width = width};
}

/* Limit of one pulse [J/m2]. */
static double limit_of(int edition, int organ, double wavelength, double width)
{
    const struct brv_exposure_ask ask = ask_of(edition, organ, wavelength, width);
    struct brv_exposure exposure;
    brv_exposure_solve(&exposure, &ask);
    return exposure.limit;
}

/* ---- density ---- */

brv_status brv_problem_density(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    const double fluence = brv_problem_given(maker, 12.5e4, BRV_CHOICES(2e4, 3e4, 4e4, 6e4, 8e4));
    const double width = brv_problem_given(maker, 1e-9, BRV_CHOICES(5e-9, 8e-9, 10e-9));
    const double old = limit_of(BRV_EU_2006, BRV_EYE, 1064e-9, width);
    const double new = limit_of(BRV_ICNIRP_2013, BRV_EYE, 1064e-9, width);
    const double before = brv_hazard_density(fluence, old), after = brv_hazard_density(fluence, new);
    brv_problem_ask(maker,
                    "Pulses of %s at 1064 nm, %s. Which optical density takes them down to the limit of the eye by the "
                    "edition of 2006 (%s), which by that of 2013 (%s)?",
                    SAY(fluence, "J/cm2"), SAY(width, "ns"), SAY(old, "J/cm2"), SAY(new, "J/cm2"));
    brv_problem_step(maker, "Density is log10 of exposure over limit. 2006: log10(%s / %s) = %s.",
                     SAY(fluence, "J/cm2"), SAY(old, "J/cm2"), SAY(before, ""));
    brv_problem_step(maker, "2013: %s. The limit fell to %s of what it was, so %s is added, whatever the fluence.",
                     SAY(after, ""), SAY(new / old, "%"), SAY(after - before, ""));
    brv_problem_step(maker, "%s", adviser);
    struct brv_problem_key *key = brv_problem_answer(maker, before, "", "density, edition of 2006");
    brv_problem_printed(maker, key, 6.4, 0.05, "laser-textbook-2021", "seen");
    key = brv_problem_answer(maker, after, "", "density, edition of 2013");
    brv_problem_printed(maker, key, 6.80, 5e-3, "own-limits", "computed");
    return BRV_OK;
}

/* One pulse of a train by an edition. */
static struct brv_exposure train(int edition, double width, double rate, double stay)
{
    struct brv_exposure_ask ask = ask_of(edition, BRV_EYE, 1064e-9, width);
    struct brv_exposure exposure;
    ask.rate = rate;
    ask.stay = stay;
    brv_exposure_solve(&exposure, &ask);
    return exposure;
}

/* Limit of one pulse at 1064 nm by the rows that are from memory only, and shown for that [J/m2]. */
static double recalled(double width)
{
    const struct brv_exposure_ask ask = ask_of(BRV_ICNIRP_2013, BRV_EYE, 1064e-9, width);
    for (size_t i = 0; i < brv_n_exposure_others; i++) {
        const struct brv_exposure_row *row = &brv_exposure_others[i];
        if (row->organ != BRV_EYE || row->from > width || row->to <= width) continue;
        if (row->from_wavelength <= ask.wavelength && ask.wavelength <= row->to_wavelength)
            return brv_exposure_by_row(row, &ask, width);
    }
    return (double)NAN;
}

/* What was limited later depends on how it is read: N^-1/4 holds for some trains only, and which could not be read. */
static void tell_readings(struct brv_problem_maker *maker, double exposure, double width, double rate, double stay)
{
    const struct brv_exposure new = train(BRV_ICNIRP_2013, width, rate, stay);
    const double alone = recalled(width);
    brv_problem_step(maker,
                     "An old rule. That of 2013 keeps N^-1/4 for some trains only; which, could not be read. By the "
                     "stricter reading, for all of them, each pulse may have %s within %s: density %s.",
                     SAY(new.limit, "J/cm2"), SAY(stay, "s"), SAY(brv_hazard_density(exposure, new.limit), ""));
    brv_problem_step(maker,
                     "By the standard of 2014, from memory, a small source has no such reduction below 600 pulses: %s, "
                     "density %s. So it is the reading that decides, and the edition in force.",
                     SAY(alone, "J/cm2"), SAY(brv_hazard_density(exposure, alone), ""));
}

brv_status brv_problem_density_train(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    static const double stay[3] = {10.0, 600.0, 30000.0}, printed[3] = {4.5, 5.0, 5.4};
    const double energy = brv_problem_given(maker, 20e-3, BRV_CHOICES(10e-3, 50e-3, 100e-3, 200e-3, 400e-3));
    const double rate = brv_problem_given(maker, 11.0, BRV_CHOICES(2.0, 5.0, 8.0, 10.0));
    const double width = 12e-9, exposure = brv_hazard_pupil(energy);
    const double one = limit_of(BRV_EU_2006, BRV_EYE, 1064e-9, width);
    char quantity[BRV_PROBLEM_QUANTITY];
    brv_problem_ask(
        maker,
        "%.0f pulses a second of %s, %s, 1064 nm, all of each through the pupil of 7 mm. Which density by the "
        "edition of 2006, whose limit of each of N pulses is %s N^-1/4, for %s, %s and %s?",
        rate, SAY(energy, "mJ"), SAY(width, "ns"), SAY(one, "J/cm2"), SAY(stay[0], "s"), SAY(stay[1], "s"),
        SAY(stay[2], "s"));
    brv_problem_step(maker, "On 7 mm: %s.", SAY(exposure, "J/cm2"));
    for (size_t i = 0; i < 3; i++) {
        const struct brv_exposure old = train(BRV_EU_2006, width, rate, stay[i]);
        const double limit = old.rule[BRV_RULE_MANY], density = brv_hazard_density(exposure, limit);
        brv_problem_step(maker, "%s: N = %s, limit %s, density %s.", SAY(stay[i], "s"), SAY(old.pulses, ""),
                         SAY(limit, "J/cm2"), SAY(density, ""));
        snprintf(quantity, sizeof quantity, "density for %s", SAY(stay[i], "s"));
        struct brv_problem_key *key = brv_problem_answer(maker, density, "", quantity);
        brv_problem_printed(maker, key, printed[i], 0.05, "eyewear-table", "memory");
    }
    tell_readings(maker, exposure, width, rate, stay[0]);
    brv_problem_step(maker, "%s", adviser);
    return BRV_OK;
}

/* ---- distances ---- */

brv_status brv_problem_beam_distance(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    const double power = brv_problem_given(maker, 1.0, BRV_CHOICES(0.2, 0.5, 2.0, 3.0));
    const double angle = brv_problem_given(maker, 1e-3, BRV_CHOICES(2e-3, 3e-3, 5e-3));
    const double round = 25.0, blink = 0.25; /* W/m2 as the printed example must have taken it; [s] */
    const struct brv_exposure_ask visible = ask_of(BRV_EU_2006, BRV_EYE, 532e-9, blink);
    const struct brv_exposure_row *row;
    const double limit = brv_exposure_limit(&visible, blink, &row) / blink;
    const double far = brv_hazard_beam(power, round, angle, 0.0), by_row = brv_hazard_beam(power, limit, angle, 0.0);
    brv_problem_ask(
        maker,
        "A steady visible beam of %s opens by %s (full angle at its 1/e edges) from a point. From which distance "
        "on is it below %s? And below what the row of 2006 allows for %s, %g t^%g J/m2 with t in s?",
        SAY(power, "W"), SAY(angle, "mrad"), SAY(round, "W/m2"), SAY(blink, "s"), row->coefficient, row->exponent);
    brv_problem_step(maker, "There the power lies on a disc of pi (angle x r)^2/4: r = sqrt(4 P/(pi E))/angle = %s.",
                     SAY(far, "m"));
    brv_problem_step(maker, "The row gives %s in all, over %s an irradiance of %s, and with it %s.",
                     SAY(limit * blink, "J/m2"), SAY(blink, "s"), SAY(limit, "W/m2"), SAY(by_row, "m"));
    brv_problem_step(maker, "Nothing is taken off for air or blinking; a mirror carries the beam on.");
    struct brv_problem_key *key = brv_problem_answer(maker, far, "m", "distance for 25 W/m2");
    brv_problem_printed(maker, key, 225.0, 1.0, "laser-textbook-2021", "seen"); /* its limit is not told */
    key = brv_problem_answer(maker, by_row, "m", "distance by the row for 0.25 s");
    brv_problem_printed(maker, key, 224.0, 1.0, "course-problems", "computed"); /* of a limit rounded to 25.4 */
    return BRV_OK;
}

/* Two answers that differ, or one that seems to take back the other: which of them to read is told. */
static void tell_size(struct brv_problem_maker *maker, const struct brv_scattered *found, double spot)
{
    if (found->distance > 0.0)
        brv_problem_step(maker,
                         "With the spot of %s limit and exposure agree at %s. The point is the stricter of the two.",
                         SAY(spot, "mm"), SAY(found->distance, "m"));
    else
        brv_problem_step(
            maker,
            "With the spot of %s there is no such distance: the limit grows with the angle, from 5 mrad on "
            "with its square, as fast as the exposure. That takes nothing back: it trusts that nothing "
            "narrower shines. The point, %s, is the stricter answer and the key.",
            SAY(spot, "mm"), SAY(found->point, "m"));
}

brv_status brv_problem_scattered_distance(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    const double energy = brv_problem_given(maker, 1.0, BRV_CHOICES(0.3, 0.4, 0.5, 0.6, 0.8));
    const double back = brv_problem_given(maker, 0.5, BRV_CHOICES(0.4, 0.5, 0.6));
    const double spot = 6e-3;
    const struct brv_exposure_ask eye = ask_of(BRV_ICNIRP_2013, BRV_EYE, 1064e-9, 5e-9);
    const double limit = limit_of(BRV_ICNIRP_2013, BRV_EYE, 1064e-9, 5e-9);
    struct brv_scattered found;
    brv_hazard_scattered(&found, &eye, back * energy, spot);
    brv_problem_ask(
        maker,
        "A pulse of %s at 1064 nm, some nanoseconds, meets skin that scatters %s back by Lambert's law, as matt paper "
        "does. At which distance has an eye straight in front of it the limit of 2013, %s? First take the spot for a "
        "point; then allow for its width of %s, C_E = angle / %s, above 5 mrad angle^2 over both angles.",
        SAY(energy, "J"), SAY(back, "%"), SAY(limit, "J/cm2"), SAY(spot, "mm"), SAY(BRV_ALPHA_MIN, "mrad"));
    brv_problem_step(maker,
                     "Lambert, straight in front: exposure = share x Q/(pi r^2), so r = sqrt(share x Q/(pi limit)) = "
                     "%s. Spread evenly over the half space it would be Q/(2 pi r^2), and %s.",
                     SAY(found.point, "m"), SAY(sqrt(0.5) * found.point, "m"));
    tell_size(maker, &found, spot);
    brv_problem_step(maker, "This is light off matt skin; a wet or covered surface sends some on as a beam. %s",
                     adviser);
    struct brv_problem_key *key = brv_problem_answer(maker, found.point, "m", "distance, a point, Lambert");
    brv_problem_printed(maker, key, 2.8, 0.05, "course-problems", "computed");
    if (found.distance > 0.0) brv_problem_answer(maker, found.distance, "m", "distance, with the size of a 6 mm spot");
    return BRV_OK;
}

/* ---- skin ---- */

brv_status brv_problem_skin_limit(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    const double fluence = brv_problem_given(maker, 2e4, BRV_CHOICES(1e4, 1.5e4, 2.5e4, 3e4, 4e4));
    const double limit = limit_of(BRV_ICNIRP_2013, BRV_SKIN, 1064e-9, 5e-9);
    brv_problem_ask(
        maker,
        "Skin is treated with %s at 1064 nm, nanoseconds. How many times the exposure limit of skin is that "
        "(2013: 200 J/m2 times C_A = %s)? Is the limit the aim?",
        SAY(fluence, "J/cm2"), SAY(brv_exposure_factor_a(1064e-9), ""));
    brv_problem_step(maker, "Limit: %s. Ratio: %s / %s = %s.", SAY(limit, "J/cm2"), SAY(fluence, "J/cm2"),
                     SAY(limit, "J/cm2"), SAY(fluence / limit, ""));
    brv_problem_step(maker,
                     "No: the limit is for bystanders and hands, whose skin shall stay as it is. A treatment is meant "
                     "to change skin.");
    struct brv_problem_key *key = brv_problem_answer(maker, fluence / limit, "", "over the limit of skin");
    brv_problem_printed(maker, key, 20.0, 0.5, "course-problems", "computed");
    return BRV_OK;
}
