#include "report/csv.h"

#include "report/number.h"

const char *const brv_site_name[BRV_N_SITE] = {"lesion", "neighbour"};

static void temperature_header(FILE *to, const struct brv_result *result)
{
    static const char *const probe[BRV_N_GRAIN_PROBE] = {"grain_centre", "grain_mean", "grain_surface", "layer"};
    fputs("time_s", to);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        for (size_t i = 0; i < BRV_N_GRAIN_PROBE; i++) fprintf(to, ",%s_%s_rise_K", brv_site_name[site], probe[i]);
        for (size_t i = 0; i < result->ask.watch.n_depth; i++)
            fprintf(to, ",%s_depth%zu_rise_K", brv_site_name[site], i + 1);
    }
    fputs("\r\n", to);
}

void brv_csv_temperature(FILE *to, const struct brv_result *result)
{
    const struct brv_history *first = &result->site[0].history;
    char text[BRV_NUMBER_SIZE];
    temperature_header(to, result);
    for (size_t i = 0; i < first->n_time; i++) {
        fputs(brv_number_exact(text, first->time[i]), to);
        for (size_t site = 0; site < BRV_N_SITE; site++)
            for (size_t probe = 0; probe < first->n_probe; probe++)
                fprintf(to, ",%s", brv_number_exact(text, brv_history_rise(&result->site[site].history, probe)[i]));
        fputs("\r\n", to);
    }
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

void brv_csv_map(FILE *to, const struct brv_result *result)
{
    char text[3][BRV_NUMBER_SIZE];
    fputs("site,radius_m,depth_m,fluence_ratio\r\n", to);
    for (size_t site = 0; site < BRV_N_SITE; site++) {
        const struct brv_light *light = &result->site[site].light;
        for (size_t j = 0; j < light->n_map_radius; j++)
            for (size_t i = 0; i < light->n_map_depth; i++)
                fprintf(to, "%s,%s,%s,%s\r\n", brv_site_name[site], brv_number_exact(text[0], light->map_radius[j]),
                        brv_number_exact(text[1], light->map_depth[i]),
                        brv_number_exact(text[2], light->map[i * light->n_map_radius + j]));
    }
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
