/* Readings of one's own meter from a CSV file (RFC 4180: quotes, CRLF or LF; a UTF-8 mark at the start is passed over).
 *     day        running number of the day, 0 to 36600; all rows or no column. No dates: they could tell who and when.
 *     energy_mJ  or energy_J: what the meter read of one pulse, within the range of light.energy
 *     spot_mm    measured diameter, within the range of light.spot; may be empty
 *     set_mJ     what the display said, one and the same in all rows; may be empty
 * Any other column is refused by name: neither the device nor a person belongs in here. At most 10,000 rows and 1 MiB.
 * Tests: tests/unit/test_readings.c.                                                                              */
#ifndef BRV_CLI_SCENARIO_READINGS_H
#define BRV_CLI_SCENARIO_READINGS_H

#include "scenario/fault.h"
#include "side/output.h"

#include <stddef.h>

enum { BRV_MOST_READINGS = 10000 };

struct brv_readings {
    size_t n;
    struct brv_meter_reading *reading; /* [n] by day, those of one day in the order of the file */
};

/* Reads `path` (`-`: standard input). Every fault goes to `faults` in the order of the file, at most some fifty.
 * Returns 0, or the exit code that fits: 3 readings refused, 4 file trouble, 6 out of memory; then `readings` is empty. */
int brv_readings_read(struct brv_readings *readings, const char *path, struct brv_faults *faults);

/* The same from memory; `name` is what messages call it. */
int brv_readings_parse(struct brv_readings *readings, const char *name, const char *text, size_t size,
                       struct brv_faults *faults);

void brv_readings_free(struct brv_readings *readings);

#endif
