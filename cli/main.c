/* The table of commands, and the one way out of the program. */
#include "command/command.h"
#include "command/explain.h"
#include "command/help.h"
#include "command/options.h"
#include "lesson/lesson.h"
#include "report/leave.h"

#include <gsl/gsl_errno.h>

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#ifndef BRV_VERSION
#define BRV_VERSION "0.1.0"
#endif

#define HAND "scenarios/hand_532nm.yaml"

const struct brv_command brv_commands[] = {
    {"run", "what happens in this skin under this pulse", "[OPTIONS] SCENARIO", BRV_RUN_OPTIONS, brv_command_run,
     "run " HAND "\nrun " HAND " \\\n    --set light.pulse=\"300 ns\" --out out/longer", NULL},
    {"check", "is this scenario sound", "[OPTIONS] SCENARIO...", BRV_CHECK_OPTIONS, brv_command_check, "check " HAND,
     NULL},
    {"explain", "what may stand in a scenario: unit, range, default, source", "[OPTIONS] [SECTION or KEY, or terms]",
     BRV_EXPLAIN_OPTIONS, brv_command_explain, "explain light\nexplain light.pulse", brv_explain_words},
    {"tissue", "the layers' optical and thermal numbers at this wavelength", "[OPTIONS] SCENARIO", BRV_TISSUE_OPTIONS,
     brv_command_tissue, "tissue " HAND " --set light.wavelength=\"1064 nm\"", NULL},
    {"compare", "several scenarios, or the choices inside one, side by side", "[OPTIONS] SCENARIO...",
     BRV_COMPARE_OPTIONS, brv_command_compare, "compare scenarios/compare/same_energy_through_spots.yaml", NULL},
    {"ladder", "test spots: your own steps of fluence, and what each should show", "[OPTIONS] SCENARIO",
     BRV_LADDER_OPTIONS, brv_command_ladder, "ladder scenarios/test_spots_694nm.yaml", NULL},
    {"sweep", "a curve or a map over one or two keys", "--vary KEY=FROM..TO:N[:log] [OPTIONS] SCENARIO",
     BRV_SWEEP_OPTIONS, brv_command_sweep, "sweep --vary light.spot=2mm..10mm:3 " HAND, NULL},
    {"window", "which pulse widths and fluences disrupt pigment or heat the layers", "[OPTIONS] SCENARIO",
     BRV_STUDY_OPTIONS, brv_command_window, "window " HAND, NULL},
    {"spread", "how uncertain the answer is, and which input makes it so", "[OPTIONS] SCENARIO", BRV_SPREAD_OPTIONS,
     brv_command_spread, "spread " HAND " --draws 32", NULL},
    {"visits", "the same pulse at several visits: pigment left, doses added up", "[OPTIONS] SCENARIO",
     BRV_STUDY_OPTIONS, brv_command_visits, "visits scenarios/visits_1064nm.yaml", NULL},
    {"room", "exposure limits, optical density, distances for people around", "[OPTIONS] SCENARIO", BRV_ROOM_OPTIONS,
     brv_command_room, "room scenarios/room_1064nm.yaml", NULL},
    {"cover", "spots on an area: skin missed and hit twice, dose, time, hand", "[OPTIONS] SCENARIO", BRV_COVER_OPTIONS,
     brv_command_cover, "cover scenarios/cover_cheek_1064nm.yaml", NULL},
    {"colour", "the colour of both skins, and what pigment a measured colour means", "[OPTIONS] SCENARIO",
     BRV_STUDY_OPTIONS, brv_command_colour, "colour scenarios/measured_colour_532nm.yaml", NULL},
    {"output", "readings of your own meter: fluence with its interval, drift", "[OPTIONS] READINGS.csv SCENARIO",
     BRV_OUTPUT_OPTIONS, brv_command_output,
     "output scenarios/readings/weekly_1064nm.csv \\\n    scenarios/cheek_1064nm.yaml", NULL},
    {"reported", "published spots and fluences around the scenario's own: not advice", "[OPTIONS] SCENARIO, or --page",
     BRV_REPORTED_OPTIONS, brv_command_reported, "reported scenarios/cheek_1064nm.yaml", NULL},
    {"lesson", "a ready exercise: question, guess, hand-out, worked answer", "[OPTIONS] [NAME]", BRV_LESSON_OPTIONS,
     brv_command_lesson, "lesson\nlesson why_nanoseconds --answers", brv_lesson_words},
    {"help", "this list, or one command in full", "[COMMAND], or --page [scenario], or --shell bash or zsh",
     BRV_HELP_OPTIONS, brv_command_help, "help run\nhelp --page", brv_help_words},
    {NULL, NULL, NULL, 0, NULL, NULL, NULL}};

static int run_command(int argc, char *argv[])
{
    if (argc < 2) { /* asked for nothing: shown how to ask */
        brv_help_list(stderr);
        return BRV_EXIT_USAGE;
    }
    if (brv_help_asked(argv[1])) {
        brv_help_list(stdout);
        return BRV_EXIT_DONE;
    }
    if (!strcmp(argv[1], "--version")) {
        puts("brevis " BRV_VERSION);
        return BRV_EXIT_DONE;
    }
    const struct brv_command *command = brv_help_called(argv[1]);
    return command ? command->run(argc - 1, argv + 1) : brv_help_unknown(argv[1]);
}

/* A stream that was closed when the program began is one that fails: a file of the results may not come to stand in its
 * place and take words that were meant for somebody to read.                                                        */
static void keep_streams(void)
{
    static const int failing[] = {O_WRONLY, O_RDONLY, O_RDONLY};
    for (int i = STDIN_FILENO; i <= STDERR_FILENO; i++)
        if (fcntl(i, F_GETFD) < 0 && open("/dev/null", failing[i]) != i) return;
}

/* A full disk shows only when the last bytes are written out. Why earlier ones were not is lost by then, but who could not
 * take them will say so again.                                                                                      */
static int output_closed(int code)
{
    errno = 0;
    const int failed = ferror(stdout);
    if (failed && fputc('\n', stdout) != EOF) fflush(stdout);
    const int why = errno;
    if (!fclose(stdout) && !failed) return code;
    if (why) errno = why;
    fprintf(stderr, "brevis: standard output cannot be written%s%s\n", errno ? ": " : "", errno ? strerror(errno) : "");
    return code == BRV_EXIT_DONE ? BRV_EXIT_FILE : code;
}

static volatile sig_atomic_t returned;

/* libgomp ends the process by itself, with code 1, when it gets no memory or no thread for its team. */
static void ended_by_others(void)
{
    if (returned) return;
    brv_leave_now();
    static const char words[] = "brevis: ended early, for want of memory or of a thread\n";
    (void)!write(STDERR_FILENO, words, sizeof words - 1);
    _exit(BRV_EXIT_MEMORY);
}

int main(int argc, char *argv[])
{
    atexit(ended_by_others);
    keep_streams();
    signal(SIGXFSZ, SIG_IGN);    /* a file that would be larger than is allowed is a write that fails, and told */
    gsl_set_error_handler_off(); /* GSL would abort; its statuses are looked at instead */
    const int code = output_closed(run_command(argc, argv));
    returned = 1;
    return code;
}
