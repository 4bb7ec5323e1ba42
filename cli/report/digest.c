#include "report/digest.h"

#include "base/constants.h"
#include "heat/heat_beside.h"
#include "light/light_sensitivity.h"
#include "report/asked.h"
#include "report/body.h"
#include "report/caution.h"
#include "report/csv.h"
#include "report/digest_effect.h"
#include "report/hash.h"
#include "report/json.h"
#include "report/note.h"
#include "run/ratio.h"
#include "side/cie.h"

#include <math.h>

void brv_digest_cautions(struct brv_json *json)
{
    brv_json_open(json, "cautions", '[');
    for (size_t i = 0; i < brv_n_cautions; i++) brv_json_text(json, NULL, brv_cautions[i]);
    brv_json_close(json, ']');
}

void brv_digest_program(struct brv_json *json, const struct brv_request *request)
{
    char hash[BRV_HASH_SIZE];
    brv_json_open(json, "program", '{');
    brv_json_text(json, "name", "brevis");
    brv_json_text(json, "version", BRV_VERSION);
    brv_json_text(json, "scenario_hash", brv_hash_scenario(hash, &request->scenario));
    brv_json_text(json, "title", request->title);
    brv_json_close(json, '}');
}

static void write_repeated(struct brv_json *json, const struct brv_scenario *ask)
{
    const struct brv_surface *surface = &ask->surface;
    char outside[BRV_ASKED_SIZE];
    brv_json_number(json, "pulses", (double)brv_pulse_total(&ask->pulse), "1");
    if (ask->pulse.count > 1.0) brv_json_number(json, "rate", ask->pulse.rate, "1/s");
    brv_json_number(json, "passes", ask->pulse.passes, "1");
    if (ask->pulse.passes > 1.0) brv_json_number(json, "pause", ask->pulse.pause, "s");
    brv_json_text(json, "outside", brv_asked_outside(outside, surface));
    brv_json_text(json, "pulses_meet", brv_asked_meets(outside, ask));
    brv_json_number(json, "transfer", surface->transfer, "W/m2/K");
    if (!brv_surface_changes(ask)) return;
    if (brv_heat_draws(ask))
        brv_json_number(json, "outside_temperature", surface->outside_temperature - BRV_ZERO_C, "degC");
    brv_json_number(json, "on_skin_from", surface->from, "s");
    brv_json_number(json, "on_skin_to", surface->to, "s");
}

void brv_digest_colour(struct brv_json *json, const struct brv_scenario *ask)
{
    const struct brv_skin_colour *colour = &ask->skin[BRV_NEIGHBOUR].colour;
    const struct brv_spread share = {colour->melanosomes, colour->low, colour->high};
    if (!(colour->melanosomes > 0.0)) return;
    brv_json_open(json, "measured_colour", '{');
    brv_json_number(json, "L", colour->lightness, "1");
    brv_json_number(json, "b", colour->yellow, "1");
    brv_json_number(json, "ITA", brv_cie_ita(colour->lightness, colour->yellow), "degree");
    brv_json_spread(json, "melanosomes_of_epidermis", &share, 1.0, 0.0, "1", BRV_COLOUR_SOURCE);
    brv_json_close(json, '}');
}

static void write_asked(struct brv_json *json, const struct brv_scenario *ask)
{
    brv_json_open(json, "asked", '{');
    brv_json_number(json, "wavelength", ask->beam.wavelength, "m");
    brv_json_number(json, "pulse", ask->pulse.width, "s");
    brv_json_text(json, "shape", ask->pulse.shape == BRV_SHAPE_SQUARE ? "square" : "gaussian");
    brv_json_number(json, "pulse_end", brv_pulse_end(&ask->pulse), "s");
    brv_json_number(json, "spot", ask->beam.spot, "m");
    brv_json_text(json, "profile", ask->beam.profile == BRV_PROFILE_GAUSSIAN ? "gaussian" : "flat");
    brv_json_number(json, "fluence", ask->beam.fluence, "J/m2");
    brv_json_number(json, "fluence_on_axis", brv_beam_axis_fluence(&ask->beam), "J/m2");
    brv_json_number(json, "energy", ask->beam.energy, "J");
    brv_json_number(json, "outside_index", ask->surface.index, "1");
    brv_json_number(json, "start_temperature", ask->surface.temperature - BRV_ZERO_C, "degC");
    brv_json_number(json, "core_temperature", ask->surface.core - BRV_ZERO_C, "degC");
    brv_json_number(json, "until", ask->watch.until, "s");
    write_repeated(json, ask);
    brv_digest_colour(json, ask);
    brv_json_close(json, '}');
}

/* Light in the grain's layer and at 1 mm if all grains were paler or darker, over the light as it is. */
static void write_answer(struct brv_json *json, const struct brv_site *site)
{
    static const char *const name[2] = {"paler", "darker"};
    static const double darkness[2] = {BRV_DARKNESS_LOW, BRV_DARKNESS_HIGH};
    const struct brv_sensitivity *sensitivity = &site->light.sensitivity;
    brv_json_open(json, "answer_to_darkness", '{');
    for (size_t k = 0; k < 2; k++) {
        brv_json_open(json, name[k], '{');
        brv_json_number(json, "darkness", darkness[k], "1");
        brv_json_number(json, "uptake_of_a_grain", sensitivity->uptake[k], "1");
        brv_json_number(json, "light_at_grain", sensitivity->mean[k][site->tissue.grain.layer], "1");
        brv_json_number(json, "light_at_1_mm", brv_light_answer(&site->light, k, 1e-3), "1");
        brv_json_close(json, '}');
    }
    brv_json_close(json, '}');
}

static void write_light(struct brv_json *json, const struct brv_site *site, const struct brv_request *request)
{
    const struct brv_layered *layered = &site->light.layered;
    brv_json_number(json, "reflected_specular", layered->reflected_specular, "1");
    brv_json_number(json, "reflected_diffuse", layered->reflected_diffuse, "1");
    brv_json_number(json, "transmitted", layered->transmitted, "1");
    brv_json_open(json, "absorbed", '[');
    for (size_t i = 0; i < layered->n_medium; i++) {
        brv_json_open(json, NULL, '{');
        brv_json_text(json, "layer", request->layer_name[i]);
        brv_json_number(json, "share", layered->absorbed[i], "1");
        brv_json_close(json, '}');
    }
    brv_json_close(json, ']');
    brv_json_number(json, "budget_residual", layered->residual, "1");
    brv_json_number(json, "fluence_ratio_surface", brv_light_fluence(&site->light, 0.0), "1");
    brv_json_number(json, "fluence_ratio_at_grain", site->light.mean_fluence[site->tissue.grain.layer], "1");
    brv_json_open(json, "fluence_ratio", '[');
    for (size_t i = 0; i < request->scenario.watch.n_depth; i++)
        brv_json_number(json, NULL, brv_light_fluence(&site->light, request->scenario.watch.depth[i]), "1");
    brv_json_close(json, ']');
    brv_json_open(json, "over_endless_beam", '[');
    for (size_t i = 0; i < request->scenario.watch.n_depth; i++)
        brv_json_number(json, NULL, brv_light_ratio(&site->light, request->scenario.watch.depth[i]), "1");
    brv_json_close(json, ']');
    brv_json_number(json, "over_endless_beam_at_grain",
                    brv_light_ratio(&site->light, site->light.top[site->tissue.grain.layer]), "1");
    brv_json_number(json, "spot_in_diffusion_depths", site->light.spot_depths, "1");
    write_answer(json, site);
    if (site->light.method == BRV_METHOD_SAMPLED) brv_json_number(json, "photons", (double)site->light.photons, "1");
}

static void write_formulas(struct brv_json *json, const struct brv_effect *effect)
{
    brv_json_open(json, "relaxation_by_formula", '[');
    for (size_t i = 0; i < brv_n_relaxations; i++) {
        const double time = brv_relaxation_time(brv_relaxations[i].kappa, effect->diameter, BRV_TRADE_DIFFUSIVITY);
        brv_json_open(json, NULL, '{');
        brv_json_text(json, "definition", brv_relaxations[i].name);
        brv_json_text(json, "meaning", brv_relaxations[i].meaning);
        brv_json_number(json, "kappa", brv_relaxations[i].kappa, "1");
        brv_json_number(json, "time", time, "s");
        brv_json_number(json, "pulse_over_relaxation", effect->pulse / time, "1");
        brv_json_close(json, '}');
    }
    brv_json_close(json, ']');
    brv_json_sourced(json, "relaxation_diffusivity", BRV_TRADE_DIFFUSIVITY, "m2/s", "trade-diffusivity", "memory");
}

static void write_cooling(struct brv_json *json, const struct brv_cooling *cooling)
{
    brv_json_open(json, "relaxation_of_this_grain", '{');
    brv_json_text(json, "meaning", "heated evenly at once; excess over its cell down to 1/2 or 1/e");
    brv_json_number(json, "centre_to_half", cooling->centre_half, "s");
    brv_json_number(json, "centre_to_1_over_e", cooling->centre_efold, "s");
    brv_json_number(json, "mean_to_half", cooling->mean_half, "s");
    brv_json_number(json, "mean_to_1_over_e", cooling->mean_efold, "s");
    brv_json_close(json, '}');
}

static void write_grain(struct brv_json *json, const struct brv_site *site, const struct brv_request *request)
{
    const struct brv_grain *grain = &site->tissue.grain;
    const struct brv_effect *effect = &site->effect;
    brv_json_text(json, "layer", request->layer_name[grain->layer]);
    brv_json_number(json, "diameter", effect->diameter, "m");
    brv_json_number(json, "cell_diameter", 2.0 * grain->cell_radius, "m");
    brv_json_number(json, "absorption", grain->absorption, "1/m");
    brv_json_number(json, "shading", grain->shading, "1");
    brv_json_number(json, "adiabatic_rise", effect->adiabatic_rise, "K");
    write_cooling(json, &effect->cooling);
    brv_json_number(json, "pulse_over_relaxation", effect->pulse / effect->cooling.mean_efold, "1");
    write_formulas(json, effect);
    brv_json_number(json, "heat_not_left_at_pulse_end", effect->held, "1");
    brv_json_sourced(json, "stress_confinement_time", effect->stress_time, "s", "photoacoustic", "memory");
    brv_json_number(json, "pulse_over_stress_confinement", effect->pulse / effect->stress_time, "1");
}

/* `absorption` and its parts, scattering and what heat needs: one object a layer. */
static void write_layers(struct brv_json *json, const struct brv_site *site, const struct brv_request *request)
{
    for (size_t i = 0; i < site->tissue.n_layer; i++) {
        const struct brv_layer *layer = &site->tissue.layer[i];
        brv_json_open(json, NULL, '{');
        brv_json_text(json, "layer", request->layer_name[i]);
        brv_json_number(json, "top", site->light.top[i], "m");
        brv_json_number(json, "thickness", layer->thickness, "m");
        brv_json_number(json, "absorption", layer->absorption, "1/m");
        brv_json_number(json, "absorption_pigment", layer->absorption_pigment, "1/m");
        brv_json_number(json, "scattering", layer->scattering, "1/m");
        brv_json_number(json, "anisotropy", layer->anisotropy, "1");
        brv_json_number(json, "index", layer->index, "1");
        brv_json_number(json, "mean_fluence_ratio", site->light.mean_fluence[i], "1");
        brv_json_number(json, "conductivity", layer->conductivity, "W/m/K");
        brv_json_number(json, "heat_capacity", layer->heat_capacity, "J/m3/K");
        brv_json_close(json, '}');
    }
}

/* What is left of the pulses before, on three scales, just before the last one. */
static void write_train(struct brv_json *json, const struct brv_site *site, const struct brv_request *request)
{
    const struct brv_history *history = &site->history;
    const size_t n = history->n_time, row = history->before[history->n_pulse - 1];
    brv_json_number(json, "pulses", (double)history->n_pulse, "1");
    brv_json_number(json, "last_start", brv_pulse_last(&request->scenario.pulse), "s");
    brv_json_open(json, "rise_before_last_pulse", '{');
    brv_json_number(json, "grain_over_layer", history->excess[BRV_PROBE_MEAN * n + row], "K");
    brv_json_number(json, "layer", history->rise[BRV_PROBE_LAYER * n + row], "K");
    brv_json_number(json, "quarter_spot_deep", history->rise[history->quarter * n + row], "K");
    brv_json_close(json, '}');
}

/* How the layers were solved, and what lies on the skin. */
static void write_heat(struct brv_json *json, const struct brv_site *site, const struct brv_request *request)
{
    const struct brv_history *history = &site->history;
    brv_json_text(json, "layers", history->field.n_depth ? "depth and sideways" : "depth only");
    brv_json_number(json, "heat_travels", history->travelled, "m");
    brv_json_number(json, "sideways_from", brv_beside_part(&request->scenario.beam), "1");
    brv_json_number(json, "steady_flux", history->steady_flux, "W/m2");
    brv_json_number(json, "longest_above_45_degC", site->effect.warm, "s");
    brv_json_number(json, "coldest", site->effect.coldest - BRV_ZERO_C, "degC");
}

static void write_audit(struct brv_json *json, const struct brv_site *site, const struct brv_request *request)
{
    (void)request;
    const struct brv_ledger *skin = &site->audit.skin;
    brv_json_number(json, "absorbed", skin->absorbed, "J/m2");
    brv_json_number(json, "stored", skin->stored, "J/m2");
    brv_json_number(json, "carried_by_blood", skin->carried, "J/m2");
    brv_json_number(json, "through_surface", skin->lost - skin->given, "J/m2");
    brv_json_number(json, "residual_layers", site->audit.layers, "1");
    brv_json_number(json, "residual_pulses", site->audit.pulses, "1");
    brv_json_number(json, "residual_disc", site->audit.beside, "1");
    brv_json_number(json, "disc_energy_over_all_absorbed", site->audit.beside_share, "1");
    brv_json_number(json, "residual_grain", site->audit.grain, "1");
    brv_json_number(json, "grains_against_layer", site->audit.join, "1");
    brv_json_number(json, "residual_light", site->light.layered.residual, "1");
}

/* A film on the skin, where there is one. */
static void write_film(struct brv_json *json, const struct brv_result *result)
{
    if (!result->ask.film.given) return;
    brv_json_open(json, "film", '{');
    brv_json_text(
        json, "meaning",
        "heated first; no melting, boiling, burning or smoke: its rise is absorbed energy over heat capacity");
    brv_json_number(json, "thickness", result->ask.film.thickness, "m");
    brv_json_number(json, "absorption", result->ask.film.absorption, "1/m");
    for (size_t which = 0; which < BRV_N_SITE; which++) {
        const struct brv_site *site = &result->site[which];
        const struct brv_film_effect *film = &site->effect.film;
        const double here = site->light.mean_fluence[site->tissue.grain.layer];
        brv_json_open(json, brv_site_name[which], '{');
        brv_json_number(json, "takes_up", film->absorbed, "1");
        brv_json_number(json, "light_at_grain_over_bare_skin", here / result->bare[which].fluence, "1");
        brv_json_spread(json, "rise_of_its_mean", &film->peak, 1.0, 0.0, "K",
                        "jacques-1998: darkness of the grains below it; the film's own numbers are not varied");
        brv_json_number(json, "rise_of_its_hottest_cell", film->warmest, "K");
        brv_json_flag(json, "energy_over_heat_capacity_only", film->above);
        brv_json_number(json, "rise_of_grain_layer_by_its_heat", film->gives, "K");
        brv_json_number(json, "rise_of_grain_layer_by_its_heat_time", film->gives_time, "s");
        brv_json_close(json, '}');
    }
    brv_json_close(json, '}');
}

typedef void (*site_writer)(struct brv_json *json, const struct brv_site *site, const struct brv_request *request);

static void write_sites(struct brv_json *json, const char *name, char bracket, site_writer write,
                        const struct brv_request *request, const struct brv_result *result)
{
    const char close = bracket == '{' ? '}' : ']';
    brv_json_open(json, name, '{');
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        brv_json_open(json, brv_site_name[site], bracket);
        write(json, &result->site[site], request);
        brv_json_close(json, close);
    }
    brv_json_close(json, '}');
}

/* What a tan does to the threshold of a sign. */
static void write_tan(struct brv_json *json, const struct brv_result *result)
{
    const struct brv_tan *tan = &result->tan;
    const struct brv_spread *lesion = &result->site[BRV_LESION].effect.crowd.threshold_sign;
    const struct brv_spread *neighbour = &result->site[BRV_NEIGHBOUR].effect.crowd.threshold_sign;
    const struct brv_spread ratio = brv_threshold_ratio(neighbour, lesion);
    brv_json_open(json, "threshold_ratio", '{');
    brv_json_text(json, "meaning", "threshold of a visible sign in the neighbour over that in the lesion");
    brv_json_spread(json, "ratio", &ratio, 1.0, 0.0, "1", BRV_SIGN_SOURCE);
    if (tan->factor > 1.0) {
        const struct brv_spread narrowed = brv_threshold_ratio(&tan->threshold_sign, lesion);
        brv_json_number(json, "tan_on_neighbour_pigment", tan->factor, "1");
        brv_json_number(json, "tan_applied", tan->applied, "1");
        brv_json_flag(json, "tan_cut_at_60_percent", tan->cut);
        brv_json_spread(json, "tanned_threshold_sign", &tan->threshold_sign, 1.0, 0.0, "J/m2", BRV_SIGN_SOURCE);
        brv_json_spread(json, "tanned_ratio", &narrowed, 1.0, 0.0, "1", BRV_SIGN_SOURCE);
    }
    brv_json_close(json, '}');
}

static void write_probes(struct brv_json *json, const struct brv_watch *watch)
{
    char name[40];
    brv_json_open(json, "probes", '{');
    for (size_t i = 0; i < watch->n_depth; i++) {
        snprintf(name, sizeof name, "depth%zu", i + 1);
        brv_json_number(json, name, watch->depth[i], "m");
    }
    brv_json_close(json, '}');
}

static void write_words(struct brv_json *json, const struct brv_result *result)
{
    struct brv_notes notes;
    brv_notes_make(&notes, result);
    brv_json_open(json, "notes", '[');
    for (size_t i = 0; i < notes.n; i++) brv_json_text(json, NULL, notes.text[i]);
    brv_json_close(json, ']');
    brv_digest_cautions(json);
}

static void write_beam(struct brv_json *json, const struct brv_result *result)
{
    const struct brv_light *light = &result->site[BRV_LESION].light;
    static const char *const method[] = {"spot", "layered", "sampled"};
    brv_json_text(json, "beam", light->method == BRV_METHOD_LAYERED ? "endless" : "spot, on its axis");
    brv_json_text(json, "light_method", method[light->method]);
    brv_json_flag(json, "stopped", light->stopped || result->site[BRV_NEIGHBOUR].light.stopped);
}

void brv_digest_write(FILE *to, const struct brv_request *request, const struct brv_result *result)
{
    struct brv_json json = {.to = to};
    brv_json_open(&json, NULL, '{');
    brv_digest_program(&json, request);
    write_beam(&json, result);
    write_asked(&json, &request->scenario);
    brv_body_digest(&json, &request->scenario.skin[BRV_NEIGHBOUR]);
    write_film(&json, result);
    write_sites(&json, "light", '{', write_light, request, result);
    write_sites(&json, "grain", '{', write_grain, request, result);
    write_sites(&json, "layers", '[', write_layers, request, result);
    write_sites(&json, "effect", '{', brv_digest_effect, request, result);
    write_tan(&json, result);
    write_sites(&json, "heat", '{', write_heat, request, result);
    write_sites(&json, "train", '{', write_train, request, result);
    write_sites(&json, "audit", '{', write_audit, request, result);
    write_probes(&json, &request->scenario.watch);
    write_words(&json, result);
    brv_json_close(&json, '}');
}
