/* What `brevis output` says: readings of one's own meter, the fluence they make, how they drift, and what the shift from
 * what was planned does to grains. Neither the readings' file nor anything that names a device is told.               */
#ifndef BRV_CLI_REPORT_OUTPUT_H
#define BRV_CLI_REPORT_OUTPUT_H

#include "report/note.h"
#include "report/figure.h"
#include "scenario/readings.h"
#include "scenario/request.h"
#include "side/output.h"
#include "study/headline.h"
#include "study/test_spots.h"

#include <stdbool.h>
#include <stdio.h>

/* The scenario, with the mean of the readings, and at both ends of its fluence in the measured spot. */
enum brv_shift { BRV_SHIFT_PLANNED, BRV_SHIFT_MEASURED, BRV_SHIFT_LOW, BRV_SHIFT_HIGH, BRV_N_SHIFT };

struct brv_shifted {
    bool there; /* false: no such fluence, or none that a scenario may have */
    double energy, spot, fluence;
    struct brv_headlines headlines;
    enum brv_sign sign[BRV_N_SITE];
};

/* An error that readings cannot tell: how large, and who says so. */
struct brv_own_error {
    double share;
    bool given; /* on the command line */
};

struct brv_output_answer {
    const struct brv_request *request;
    const struct brv_readings *readings;
    const struct brv_output *output;
    struct brv_own_error meter, spot;
    struct brv_shifted shift[BRV_N_SHIFT];
    struct brv_notes notes; /* of the run at the measured fluence */
};

void brv_output_text(FILE *to, const struct brv_output_answer *answer);
void brv_output_json(FILE *to, const struct brv_output_answer *answer);

/* reading, day (empty where none was told), energy_J, spot_m (empty where not measured), fluence_J_m2 (in the reading's own
 * spot, else in the mean one), point_J (mean of the day, or the reading), outside (1: its point lies outside the limits). */
void brv_output_csv(FILE *to, const struct brv_output_answer *answer);

/* Numbers of the figure, as plots/readings.gp wants them. */
void brv_output_figure(char numbers[BRV_FIGURE_TEXT], char words[BRV_FIGURE_TEXT],
                       const struct brv_output_answer *answer);

#endif
