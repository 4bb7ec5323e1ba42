/* `brevis lesson numbers`: a lesson that is a sheet of problems. */
#ifndef BRV_CLI_COMMAND_NUMBERS_H
#define BRV_CLI_COMMAND_NUMBERS_H

#include "command/options.h"

/* Returns an exit code. */
int brv_lesson_numbers(const struct brv_options *options);

#endif
