#include "command/command.h"

int brv_command_reported(int argc, char *argv[])
{
    (void)argc;
    (void)argv;
    return BRV_EXIT_DONE;
}
