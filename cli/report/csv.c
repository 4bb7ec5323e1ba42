#include "report/csv.h"

#include "report/number.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#define SHARE_SHOWN 1e-4 /* of grains: fewer, or all but fewer, are not worth a row */

/* Would a spreadsheet reckon with it? What it then runs may start programs and call servers. */
static bool begins_as_formula(const char *text)
{
    static const char *const marks[] = {"=",           "+", "-", "@", "\xEF\xBC\x9D", "\xEF\xBC\x8B", "\xEF\xBC\x8D",
                                        "\xEF\xBC\xA0"};
    text += strspn(text, " \t\r\n");
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++)
        if (!strncmp(text, marks[i], strlen(marks[i]))) return true;
    return false;
}

void brv_csv_text(FILE *to, const char *text)
{
    fputs(begins_as_formula(text) ? "\"'" : "\"", to);
    for (const char *c = text; *c; c++) {
        if (*c == '"') fputc('"', to);
        fputc(*c, to);
    }
    fputc('"', to);
}

const char *const brv_site_name[BRV_N_SITE] = {"lesion", "neighbour"};

static void temperature_header(FILE *to, const struct brv_result *result, bool cooled)
{
    static const char *const probe[BRV_N_GRAIN_PROBE] = {"grain_centre", "grain_mean", "grain_surface", "layer"};
    fputs("time_s,pulse,since_s", to);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        for (size_t i = 0; i < BRV_N_GRAIN_PROBE; i++) fprintf(to, ",%s_%s_rise_K", brv_site_name[site], probe[i]);
        for (size_t i = 0; i < result->ask.watch.n_depth; i++)
            fprintf(to, ",%s_depth%zu_rise_K", brv_site_name[site], i + 1);
        if (cooled) fprintf(to, ",%s_layer_without_pulses_K", brv_site_name[site]);
        for (size_t i = 0; i < result->ask.watch.n_depth && cooled; i++)
            fprintf(to, ",%s_depth%zu_without_pulses_K", brv_site_name[site], i + 1);
    }
    fputs("\r\n", to);
}

static double without_pulses(const struct brv_history *history, size_t probe, size_t row)
{
    return history->cooled ? history->cooled[probe * history->n_time + row] : 0.0;
}

static void temperature_row(FILE *to, const struct brv_history *history, size_t n_probe, size_t row)
{
    char text[BRV_NUMBER_SIZE];
    for (size_t probe = 0; probe < n_probe; probe++)
        fprintf(to, ",%s",
                brv_number_exact(text, brv_history_rise(history, probe)[row] + without_pulses(history, probe, row)));
    for (size_t probe = BRV_PROBE_LAYER; probe < n_probe && history->cooled; probe++)
        fprintf(to, ",%s", brv_number_exact(text, without_pulses(history, probe, row)));
}

void brv_csv_temperature(FILE *to, const struct brv_result *result)
{
    const struct brv_history *first = &result->site[0].history;
    const size_t n_probe = BRV_N_GRAIN_PROBE + result->ask.watch.n_depth;
    char text[2][BRV_NUMBER_SIZE];
    temperature_header(to, result, first->cooled != NULL);
    for (size_t i = 0; i < first->n_time; i++) {
        fprintf(to, "%s,%zu,%s", brv_number_exact(text[0], first->time[i]), first->pulse[i],
                brv_number_exact(text[1], first->since[i]));
        for (size_t site = 0; site < BRV_N_SITE; site++) temperature_row(to, &result->site[site].history, n_probe, i);
        fputs("\r\n", to);
    }
}

/* The mean of the grain over its layer, the layer, and a quarter of the spot deep, just before a pulse. */
static void train_row(FILE *to, const struct brv_history *history, size_t row)
{
    const size_t n = history->n_time;
    const double value[] = {history->excess[BRV_PROBE_MEAN * n + row], history->rise[BRV_PROBE_LAYER * n + row],
                            history->rise[history->quarter * n + row]};
    char text[BRV_NUMBER_SIZE];
    for (size_t k = 0; k < sizeof value / sizeof *value; k++) fprintf(to, ",%s", brv_number_exact(text, value[k]));
}

void brv_csv_train(FILE *to, const struct brv_result *result)
{
    const struct brv_history *first = &result->site[0].history;
    char text[BRV_NUMBER_SIZE];
    fputs("pulse,start_s", to);
    for (size_t site = 0; site < BRV_N_SITE; site++)
        fprintf(to, ",%s_grain_over_layer_K,%s_layer_rise_K,%s_spot_rise_K", brv_site_name[site], brv_site_name[site],
                brv_site_name[site]);
    fputs("\r\n", to);
    for (size_t k = 0; k < first->n_pulse; k++) {
        fprintf(to, "%zu,%s", k + 1, brv_number_exact(text, brv_pulse_start(&result->ask.pulse, k)));
        for (size_t site = 0; site < BRV_N_SITE; site++) train_row(to, &result->site[site].history, first->before[k]);
        fputs("\r\n", to);
    }
}

void brv_csv_grain(FILE *to, const struct brv_result *result)
{
    const struct brv_history *first = &result->site[0].history;
    char text[BRV_NUMBER_SIZE];
    fputs("site,radius_m", to);
    for (size_t k = 0; k < first->n_profile; k++) {
        if (k == 0)
            fputs(",at_pulse_end_rise_K", to);
        else
            fprintf(to, ",after_%s_s_rise_K", brv_number_exact(text, first->profile_time[k]));
    }
    fputs("\r\n", to);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const struct brv_history *history = &result->site[site].history;
        for (size_t i = 0; i < history->n_radius; i++) {
            fprintf(to, "%s,%s", brv_site_name[site], brv_number_exact(text, history->radius[i]));
            for (size_t k = 0; k < history->n_profile; k++)
                fprintf(to, ",%s", brv_number_exact(text, history->profile[k * history->n_radius + i]));
            fputs("\r\n", to);
        }
    }
}

/* Numbers as text, once for all the rows they stand in; without memory NULL, and text_of writes each anew. */
static char (*texts_of(const double value[], size_t n))[BRV_NUMBER_SIZE]
{
    char(*text)[BRV_NUMBER_SIZE] = malloc((n ? n : 1) * sizeof *text);
    for (size_t i = 0; i < n && text; i++) brv_number_exact(text[i], value[i]);
    return text;
}

static const char *text_of(char (*text)[BRV_NUMBER_SIZE], const double value[], size_t i, char own[BRV_NUMBER_SIZE])
{
    return text ? text[i] : brv_number_exact(own, value[i]);
}

static void beside_site(FILE *to, const struct brv_field *field, const char *name)
{
    char radius[BRV_NUMBER_SIZE], own[BRV_NUMBER_SIZE], now[BRV_NUMBER_SIZE], later[BRV_NUMBER_SIZE];
    char(*depth)[BRV_NUMBER_SIZE] = texts_of(field->depth, field->n_depth);
    for (size_t j = 0; j < field->n_radius; j++) {
        brv_number_exact(radius, field->radius[j]);
        for (size_t i = 0; i < field->n_depth; i++) {
            const size_t here = i * field->n_radius + j;
            const double second = isnan(field->time[1]) ? (double)NAN : field->rise[1][here];
            fprintf(to, "%s,%s,%s,%s,%s\r\n", name, radius, text_of(depth, field->depth, i, own),
                    brv_number_exact(now, field->rise[0][here]), brv_number_exact(later, second));
        }
    }
    free(depth);
}

/* ---- grains that differ ---- */

/* Fluences [from, to): the last that disrupts no grain of either site, those that disrupt some, the first that disrupts
 * all of both.                                                                                                     */
static void disrupted_range(size_t *from, size_t *to, const struct brv_result *result)
{
    size_t first = BRV_N_FLUENCE - 1, last = 0;
    for (size_t site = 0; site < BRV_N_SITE; site++)
        for (size_t i = 0; i < BRV_N_FLUENCE; i++) {
            const double share = result->site[site].effect.crowd.curve[i].share.volume;
            if (share > SHARE_SHOWN && i < first) first = i;
            if (share < 1.0 - SHARE_SHOWN && i > last) last = i;
        }
    *from = first > 0 ? first - 1 : 0;
    *to = last + 2 < BRV_N_FLUENCE ? last + 2 : BRV_N_FLUENCE;
}

void brv_csv_disrupted(FILE *to, const struct brv_result *result)
{
    size_t first, end;
    char text[BRV_NUMBER_SIZE];
    disrupted_range(&first, &end, result);
    fputs("fluence_J_m2", to);
    for (size_t site = 0; site < BRV_N_SITE; site++)
        fprintf(to, ",%s_share_by_number,%s_share_by_volume,%s_disrupted_column_m", brv_site_name[site],
                brv_site_name[site], brv_site_name[site]);
    fputs("\r\n", to);
    for (size_t i = first; i < end; i++) {
        fputs(brv_number_exact(text, brv_effect_fluence(i)), to);
        for (size_t site = 0; site < BRV_N_SITE; site++) {
            const struct brv_disrupted *here = &result->site[site].effect.crowd.curve[i];
            fprintf(to, ",%s", brv_number_exact(text, here->share.number));
            fprintf(to, ",%s", brv_number_exact(text, here->share.volume));
            fprintf(to, ",%s", brv_number_exact(text, here->column));
        }
        fputs("\r\n", to);
    }
}

void brv_csv_beside(FILE *to, const struct brv_result *result)
{
    fputs("site,radius_m,depth_m,after_last_pulse_rise_K,later_rise_K\r\n", to);
    for (size_t site = 0; site < BRV_N_SITE; site++)
        beside_site(to, &result->site[site].history.field, brv_site_name[site]);
}

static void depth_row(FILE *to, const struct brv_site *site, const char *name, size_t i)
{
    const struct brv_history *history = &site->history;
    const double depth = 0.5 * (history->face[i] + history->face[i + 1]);
    const double value[] = {depth, brv_light_fluence(&site->light, depth), history->absorbed[i], history->peak[i],
                            brv_light_error(&site->light, depth)};
    char text[BRV_NUMBER_SIZE];
    fputs(name, to);
    for (size_t k = 0; k < sizeof value / sizeof *value; k++) fprintf(to, ",%s", brv_number_exact(text, value[k]));
    fputs("\r\n", to);
}

void brv_csv_depth(FILE *to, const struct brv_result *result)
{
    fputs("site,depth_m,fluence_ratio,absorbed_J_m3,peak_rise_K,fluence_error\r\n", to);
    for (size_t site = 0; site < BRV_N_SITE; site++)
        for (size_t i = 0; i < result->site[site].history.n_cell; i++)
            depth_row(to, &result->site[site], brv_site_name[site], i);
}

static void map_site(FILE *to, const struct brv_light *light, const char *name)
{
    char radius[BRV_NUMBER_SIZE], own[BRV_NUMBER_SIZE], fluence[BRV_NUMBER_SIZE];
    char(*depth)[BRV_NUMBER_SIZE] = texts_of(light->map_depth, light->n_map_depth);
    for (size_t j = 0; j < light->n_map_radius; j++) {
        brv_number_exact(radius, light->map_radius[j]);
        for (size_t i = 0; i < light->n_map_depth; i++)
            if (light->map_depth[i] >= 0.0) /* of the skin, not of a film on it */
                fprintf(to, "%s,%s,%s,%s\r\n", name, radius, text_of(depth, light->map_depth, i, own),
                        brv_number_exact(fluence, light->map[i * light->n_map_radius + j]));
    }
    free(depth);
}

void brv_csv_map(FILE *to, const struct brv_result *result)
{
    fputs("site,radius_m,depth_m,fluence_ratio\r\n", to);
    for (size_t site = 0; site < BRV_N_SITE; site++) map_site(to, &result->site[site].light, brv_site_name[site]);
}

void brv_csv_spots(FILE *to, const struct brv_spots *spots)
{
    char text[4][BRV_NUMBER_SIZE];
    fputs("spot_m,depth_m,same_fluence,same_energy\r\n", to);
    for (size_t i = 0; i < BRV_N_SPOT; i++)
        for (size_t k = 0; k < BRV_N_SPOT_DEPTH; k++)
            fprintf(to, "%s,%s,%s,%s\r\n", brv_number_exact(text[0], spots->diameter[i]),
                    brv_number_exact(text[1], spots->depth[k]), brv_number_exact(text[2], spots->ratio[i][k]),
                    brv_number_exact(text[3], spots->at_energy[i][k]));
}
