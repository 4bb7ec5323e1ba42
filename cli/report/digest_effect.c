#include "report/digest_effect.h"

#include "base/constants.h"
#include "scenario/keys.h"

#include <math.h>
#include <stdio.h>

#define SPREAD_SOURCE   "jacques-1998: grains 0.316 and 3.16 times as dark, from two more solves of the light"
#define CRITERIA_SOURCE "by the criteria in print, 150 to 112 C, at the same place; not clearance"

enum { NAME_SIZE = BRV_LAYER_NAME_SIZE + 16 };

static const char *const grain_probe[BRV_N_GRAIN_PROBE] = {"grain_centre", "grain_mean", "grain_surface", "layer"};

/* ---- words ---- */

const char *brv_place_name(int place)
{
    static const char *const name[BRV_N_PLACE] = {"centre of the grain", "mean of the grain's interior",
                                                  "surface of the grain"};
    return name[place];
}

/* "at_300_um" */
static const char *mark_name(char out[NAME_SIZE], size_t mark, const struct brv_site *site)
{
    snprintf(out, NAME_SIZE, "at_%.0f_um", 1e6 * site->history.depth[site->history.mark[mark]]);
    return out;
}

/* How a probe is called in the objects of summary.json. */
static const char *probe_name(char out[NAME_SIZE], size_t probe, const struct brv_site *site,
                              const struct brv_request *request)
{
    const struct brv_history *history = &site->history;
    if (probe < BRV_N_GRAIN_PROBE)
        snprintf(out, NAME_SIZE, "%s", grain_probe[probe]);
    else if (probe < history->quarter)
        snprintf(out, NAME_SIZE, "depth%zu", probe - BRV_N_GRAIN_PROBE + 1);
    else if (probe == history->quarter)
        snprintf(out, NAME_SIZE, "quarter_spot_deep");
    for (size_t k = 0; k < BRV_N_MARK; k++)
        if (probe == history->mark[k]) mark_name(out, k, site);
    if (probe == history->film) snprintf(out, NAME_SIZE, "mean_of_film");
    for (size_t i = 0; i < site->tissue.n_layer; i++)
        if (probe > history->quarter && probe == history->mean[i])
            snprintf(out, NAME_SIZE, "mean_of_%s", request->layer_name[i]);
    return out;
}

/* ---- objects ---- */

static void write_peaks(struct brv_json *json, const struct brv_site *site, const struct brv_request *request)
{
    char name[NAME_SIZE];
    const struct brv_effect *effect = &site->effect;
    brv_json_open(json, "peaks", '{');
    for (size_t probe = 0; probe < site->history.n_probe; probe++) {
        brv_json_open(json, probe_name(name, probe, site, request), '{');
        brv_json_spread(json, "rise", &effect->peak[probe], 1.0, 0.0, "K", SPREAD_SOURCE);
        brv_json_spread(json, "temperature", &effect->hottest[probe], 1.0, -BRV_ZERO_C, "degC", SPREAD_SOURCE);
        brv_json_number(json, "start", site->history.start[probe] - BRV_ZERO_C, "degC");
        brv_json_number(json, "time", effect->peak_time[probe], "s");
        brv_json_number(json, "time_hottest", effect->hottest_time[probe], "s");
        brv_json_close(json, '}');
    }
    brv_json_close(json, '}');
}

static void write_thresholds(struct brv_json *json, const struct brv_effect *effect)
{
    brv_json_open(json, "threshold_grain", '{');
    brv_json_text(json, "place", brv_place_name(effect->place));
    brv_json_number(json, "criterion", effect->criterion - BRV_ZERO_C, "degC");
    brv_json_spread(json, "fluence", &effect->threshold_grain, 1.0, 0.0, "J/m2", SPREAD_SOURCE);
    brv_json_close(json, '}');
    brv_json_open(json, "threshold_grain_by_criterion", '[');
    for (size_t i = 0; i < BRV_N_CRITERION; i++) {
        brv_json_open(json, NULL, '{');
        brv_json_text(json, "place", brv_place_name(effect->place));
        brv_json_sourced(json, "criterion", brv_criteria[i].temperature - BRV_ZERO_C, "degC", brv_criteria[i].source,
                         brv_criteria[i].seen);
        brv_json_spread(json, "fluence", &effect->threshold[i], 1.0, 0.0, "J/m2", SPREAD_SOURCE);
        brv_json_close(json, '}');
    }
    brv_json_close(json, ']');
}

/* Grains that differ, and the sign that one can see. */
static void write_crowd(struct brv_json *json, const struct brv_site *site, const struct brv_request *request)
{
    const struct brv_crowd_effect *crowd = &site->effect.crowd;
    const struct brv_grain *grain = &site->tissue.grain;
    const struct brv_shares *here = &crowd->here.share, *least = &crowd->least.share, *most = &crowd->most.share;
    const struct brv_spread number = {here->number, least->number, most->number};
    const struct brv_spread volume = {here->volume, least->volume, most->volume};
    brv_json_open(json, "grains_that_differ", '{');
    brv_json_sourced(json, "darkness_spread", grain->darkness_spread, "1", "jacques-1998", "choice");
    brv_json_sourced(json, "diameter_spread", grain->diameter_spread, "1", "melanosome-size", "abstract");
    brv_json_spread(json, "share_disrupted_by_number", &number, 1.0, 0.0, "1", CRITERIA_SOURCE);
    brv_json_spread(json, "share_disrupted_by_volume", &volume, 1.0, 0.0, "1", CRITERIA_SOURCE);
    brv_json_number(json, "column_of_pigment", crowd->column, "m");
    brv_json_number(json, "disrupted_column", crowd->here.column, "m");
    brv_json_close(json, '}');
    brv_json_open(json, "threshold_sign", '{');
    brv_json_text(json, "place", brv_place_name(site->effect.place));
    brv_json_number(json, "criterion", site->effect.criterion - BRV_ZERO_C, "degC");
    brv_json_number(json, "sign_column", request->scenario.watch.sign_column, "m");
    brv_json_spread(json, "fluence", &crowd->threshold_sign, 1.0, 0.0, "J/m2", BRV_SIGN_SOURCE);
    brv_json_close(json, '}');
}

static void write_pressure(struct brv_json *json, const struct brv_effect *effect)
{
    const struct brv_pressure_effect *pressure = &effect->pressure;
    brv_json_open(json, "pressure", '{');
    brv_json_text(
        json, "meaning",
        "estimate in the grain by the pulse with the most, not above the criterion; Grueneisen parameter of water");
    brv_json_spread(json, "pressure", &pressure->value, 1.0, 0.0, "Pa", "photoacoustic: a factor of 3 either way");
    brv_json_flag(json, "at_criterion", pressure->at_criterion);
    brv_json_number(json, "pulse_over_sound", pressure->theta, "1");
    brv_json_number(json, "stress_confinement", pressure->confined, "1");
    brv_json_close(json, '}');
}

static void write_vessel(struct brv_json *json, const struct brv_site *site, const struct brv_request *request)
{
    const struct brv_vessel_effect *vessel = &site->effect.vessel;
    if (!vessel->there) return;
    brv_json_open(json, "vessel", '{');
    brv_json_text(json, "meaning", "a line to stop at and look; no claim that a vessel is hurt");
    brv_json_number(json, "diameter", request->scenario.vessel.diameter, "m");
    brv_json_number(json, "depth", request->scenario.vessel.depth, "m");
    brv_json_number(json, "fluence_ratio", vessel->fluence_ratio, "1");
    brv_json_number(json, "shading", vessel->shading, "1");
    brv_json_spread(json, "rise_if_all_heat_stays", &vessel->rise, 1.0, 0.0, "K",
                    "skin-physiology: saturation 40 to 95 %");
    brv_json_sourced(json, "relaxation", vessel->relaxation, "s", "relaxation-kappa", "d^2/16 alpha, from memory");
    brv_json_close(json, '}');
}

static void write_dermis(struct brv_json *json, const struct brv_site *site)
{
    char name[NAME_SIZE];
    brv_json_open(json, "dermis", '{');
    for (size_t k = 0; k < BRV_N_MARK; k++) {
        const struct brv_dermis_effect *dermis = &site->effect.dermis[k];
        if (!dermis->there) continue;
        brv_json_open(json, mark_name(name, k, site), '{');
        brv_json_spread(json, "rise_after_first_pulse", &dermis->first, 1.0, 0.0, "K", SPREAD_SOURCE);
        brv_json_spread(json, "rise_after_last_pulse", &dermis->last, 1.0, 0.0, "K", SPREAD_SOURCE);
        brv_json_number(json, "above_45_degC", dermis->warm, "s");
        brv_json_close(json, '}');
    }
    brv_json_close(json, '}');
}

static void write_falls(struct brv_json *json, const struct brv_effect *effect)
{
    brv_json_open(json, "after_pulse_end", '{');
    brv_json_text(json, "meaning",
                  "excess of the grain over its layer down to 1/2, 1/e of what it was at the pulse's end");
    for (size_t i = 0; i < 3; i++) {
        brv_json_open(json, grain_probe[i], '{');
        brv_json_number(json, "to_half", effect->fall_half[i], "s");
        brv_json_number(json, "to_1_over_e", effect->fall_efold[i], "s");
        brv_json_close(json, '}');
    }
    brv_json_close(json, '}');
}

/* Damage by lasting warmth, of the layer and every depth. */
static void write_damage(struct brv_json *json, const struct brv_site *site, const struct brv_request *request)
{
    const struct brv_effect *effect = &site->effect;
    const int set = request->scenario.watch.damage;
    char name[NAME_SIZE];
    brv_json_open(json, "damage", '{');
    brv_json_text(json, "rates", brv_key_word(BRV_SCOPE_WATCH, "damage", set));
    brv_json_text(json, "source", brv_damage_pairs[set][0].source);
    brv_json_text(json, "seen", brv_damage_pairs[set][0].seen);
    brv_json_flag(json, "illustrative", effect->illustrative);
    brv_json_text(json, "meaning",
                  "log10 of Omega; 0.53, 1 and 1e4 are published for first, second, third degree; "
                  "null: none. cem43 is null above 50 C");
    for (size_t probe = BRV_PROBE_LAYER; probe < site->history.n_probe; probe++) {
        if (probe == site->history.film) continue; /* it is no tissue */
        brv_json_open(json, probe_name(name, probe, site, request), '{');
        brv_json_spread(json, "log10_omega", &effect->log_damage[probe], 1.0 / log(10.0), 0.0, "1", SPREAD_SOURCE);
        brv_json_number(json, "cem43", effect->minutes[probe], "min");
        brv_json_close(json, '}');
    }
    brv_json_close(json, '}');
}

void brv_digest_effect(struct brv_json *json, const struct brv_site *site, const struct brv_request *request)
{
    brv_json_flag(json, "without_vaporisation", site->effect.above);
    write_peaks(json, site, request);
    write_thresholds(json, &site->effect);
    write_crowd(json, site, request);
    write_falls(json, &site->effect);
    write_damage(json, site, request);
    write_pressure(json, &site->effect);
    write_vessel(json, site, request);
    write_dermis(json, site);
    brv_json_number(json, "heat_leaves_sideways_after", site->effect.sideways, "s");
}
