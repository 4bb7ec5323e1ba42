/* Uncertain inputs in words: what they are called, and in which unit. */
#ifndef BRV_CLI_REPORT_INPUT_H
#define BRV_CLI_REPORT_INPUT_H

#include "scenario/request.h"
#include "study/inputs.h"

/* "grain darkness", "conductivity of epidermis and basal", "index of all layers", "melanosomes of basal (lesion)", "energy
 * of a pulse"; without commas. Returns `out`.                                                                                          */
enum { BRV_INPUT_NAME_SIZE = 200 };
const char *brv_input_name(char out[BRV_INPUT_NAME_SIZE], const struct brv_input *input,
                           const struct brv_request *request);

/* What kind of number it is, and its unit in SI: "J/m2", "1". */
enum brv_dimension brv_input_dimension(const struct brv_input *input);
const char *brv_input_unit(const struct brv_input *input);

#endif
