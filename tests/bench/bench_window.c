/* How long a window of 60 widths and 60 fluences takes, as a user sees it without figures: one thread, two, and their
 * ratio. The best of several, since whatever else a machine does only adds to it.
 * usage: bench_window PROGRAM SCENARIO OUT                                                                        */
#define _DEFAULT_SOURCE
#include "report/seconds.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

enum { RUNS = 3 };

/* NAN when the program fails. */
static double once(char *const argv[])
{
    int status = 0;
    const double start = brv_seconds(CLOCK_MONOTONIC);
    const pid_t child = fork();
    if (child == 0) {
        execv(argv[0], argv);
        _exit(127);
    }
    if (child < 0 || waitpid(child, &status, 0) != child || !WIFEXITED(status) || WEXITSTATUS(status) != 0)
        return (double)NAN;
    return brv_seconds(CLOCK_MONOTONIC) - start;
}

static double best(char *argv[], char *threads)
{
    char window[] = "window", quiet[] = "--quiet", bare[] = "--no-figures", force[] = "--force", out[] = "--out",
         many[] = "--threads";
    char *const command[] = {argv[1], window, quiet, bare, force, many, threads, out, argv[3], argv[2], NULL};
    double least = once(command);
    for (int i = 1; i < RUNS; i++) {
        const double time = once(command);
        if (!(time >= least)) least = time; /* a failure is kept, too */
    }
    return least;
}

int main(int argc, char *argv[])
{
    char alone[] = "1", both[] = "2";
    if (argc != 4) return EXIT_FAILURE;
    const double one = best(argv, alone), two = best(argv, both);
    if (!(one > 0.0 && two > 0.0)) return EXIT_FAILURE;
    printf("window of 60 x 60: 1 thread %.2f s, 2 threads %.2f s, ratio %.2f, best of %d (wanted: below 5 s on two)\n",
           one, two, one / two, RUNS);
    return EXIT_SUCCESS;
}
