/* A written value, "0.6 J/cm2", as a number in SI.
 *
 * Taken: an optional sign, digits with a decimal point, an optional exponent, then blanks or none, then a unit of
 * the wanted dimension. The unit's power of ten goes into the exponent before the digits are read, so the result
 * is the double nearest to what was written, whichever unit was used (minutes and degC add one rounding).     */
#ifndef BRV_CLI_SCENARIO_QUANTITY_H
#define BRV_CLI_SCENARIO_QUANTITY_H

#include "scenario/keys.h"

#include <stdbool.h>

enum { BRV_QUANTITY_WHY_SIZE = 240 };

/* Reads `text` as a value of `dimension` (BRV_PURE: a number without a unit). When it is refused, `value` keeps
 * what it had and `why` says why, to follow "light.spot = 6: ".                                              */
bool brv_quantity_read(double *value, const char *text, enum brv_dimension dimension, char why[BRV_QUANTITY_WHY_SIZE]);

/* What keeps a text from being a value with a unit, where naming the range helps. */
enum brv_quantity_lack { BRV_LACKS_NOTHING, BRV_LACKS_UNIT, BRV_LACKS_NUMBER, BRV_LACKS_ROOM };

/* BRV_LACKS_UNIT: a number stands alone, and `number` takes it; BRV_LACKS_NUMBER: the text begins with none;
 * BRV_LACKS_ROOM: the number is larger or smaller than any that can be held.                                        */
enum brv_quantity_lack brv_quantity_lack(const char *text, double *number);

#endif
