#include "report/cover.h"

#include "report/number.h"

#include <math.h>
#include <stdbool.h>

#define SHOWN    1e-6  /* share of the skin: less is no row of hits [1] */
#define FAR      0.999 /* what lies by chance is counted so far */
#define N_COLUMN 60.0  /* of doses, about */

void brv_cover_dose_csv(FILE *to, const struct brv_cover_answer *answer)
{
    const struct brv_patch *patch = answer->patch;
    char x[BRV_NUMBER_SIZE], y[BRV_NUMBER_SIZE], dose[BRV_NUMBER_SIZE];
    fputs("x_m,y_m,dose_1,hits\r\n", to);
    for (size_t k = 0; k < patch->n; k++)
        for (size_t i = 0; i < patch->n; i++)
            fprintf(to, "%s,%s,%s,%.0f\r\n", brv_number_exact(x, ((double)i + 0.5) * patch->step),
                    brv_number_exact(y, ((double)k + 0.5) * patch->step),
                    brv_number_exact(dose, patch->dose[k * patch->n + i]), patch->hits[k * patch->n + i]);
}

static double share_of_hits(const struct brv_tally *hits, size_t k)
{
    const size_t step = (size_t)hits->step;
    return k % step == 0 && k / step < hits->n ? hits->share[k / step] : 0.0;
}

static void histogram_row(FILE *to, double from, double end, const double share[BRV_N_COVER_WAY])
{
    char text[BRV_NUMBER_SIZE];
    fprintf(to, "%s", brv_number_exact(text, from));
    fprintf(to, ",%s", brv_number_exact(text, end));
    for (size_t way = 0; way < BRV_N_COVER_WAY; way++) fprintf(to, ",%s", brv_number_exact(text, share[way]));
    fputs("\r\n", to);
}

static bool is_shown(const double share[BRV_N_COVER_WAY])
{
    for (size_t way = 0; way < BRV_N_COVER_WAY; way++)
        if (share[way] >= SHOWN) return true;
    return false;
}

static void histogram_of_hits(FILE *to, const struct brv_cover *cover)
{
    size_t most = 0;
    for (size_t way = 0; way < BRV_N_COVER_WAY; way++) {
        const struct brv_tally *hits = &cover->way[way].hits;
        const size_t last = (size_t)hits->step * (hits->n - 1);
        most = last > most ? last : most;
    }
    for (size_t k = 0; k <= most; k++) {
        double share[BRV_N_COVER_WAY];
        for (size_t way = 0; way < BRV_N_COVER_WAY; way++) share[way] = share_of_hits(&cover->way[way].hits, k);
        if (is_shown(share)) histogram_row(to, (double)k, (double)k, share);
    }
}

/* A width of 1, 2 or 5 times a power of ten. */
static double round_width(double width)
{
    const double power = pow(10.0, floor(log10(width))), times = width / power;
    return power * (times <= 1.0 ? 1.0 : times <= 2.0 ? 2.0 : times <= 5.0 ? 5.0 : 10.0);
}

static double highest_drawn(const struct brv_cover *cover)
{
    double most = 0.0;
    for (size_t way = 0; way < BRV_N_COVER_WAY; way++) {
        const struct brv_covered *covered = &cover->way[way];
        most = fmax(most, cover->random ? brv_tally_quantile(&covered->doses, FAR) : covered->highest);
    }
    return most;
}

static void histogram_of_doses(FILE *to, const struct brv_cover *cover)
{
    const double most = highest_drawn(cover), width = round_width(most / N_COLUMN);
    const size_t n = (size_t)(most / width) + 1;
    for (size_t i = 0; i < n; i++) {
        double share[BRV_N_COVER_WAY];
        for (size_t way = 0; way < BRV_N_COVER_WAY; way++)
            share[way] = brv_tally_between(&cover->way[way].doses, width * (double)i, width * (double)(i + 1));
        histogram_row(to, width * (double)i, width * (double)(i + 1), share);
    }
}

void brv_cover_histogram_csv(FILE *to, const struct brv_cover_answer *answer)
{
    fputs("dose_from_1,dose_to_1,share_one_pass,share_all_passes,share_same_places,share_twice_the_rate\r\n", to);
    if (answer->cover->gaussian)
        histogram_of_doses(to, answer->cover);
    else
        histogram_of_hits(to, answer->cover);
}
