/* How long one run takes and how much memory, as a user sees it: the program is started anew each time.
 * usage: bench_run PROGRAM SCENARIO OUT                                                                      */
#define _DEFAULT_SOURCE
#include "report/seconds.h"

#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

enum { MOST = 21 };

static int ascending(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double once(char *const argv[], long *memory)
{
    struct rusage usage;
    int status = 0;
    const double start = brv_seconds(CLOCK_MONOTONIC);
    const pid_t child = fork();
    if (child == 0) {
        execv(argv[0], argv);
        _exit(127);
    }
    wait4(child, &status, 0, &usage);
    if (status) exit(EXIT_FAILURE);
    if (usage.ru_maxrss > *memory) *memory = usage.ru_maxrss;
    return brv_seconds(CLOCK_MONOTONIC) - start;
}

static double report(const char *what, char *const argv[], int n, double wanted)
{
    double time[MOST];
    long memory = 0;
    for (int i = 0; i < n; i++) time[i] = once(argv, &memory);
    qsort(time, (size_t)n, sizeof *time, ascending);
    printf("%-28s median %6.1f ms, slowest %6.1f ms of %d, %5.1f MB (wanted: below %g ms)\n", what, 1e3 * time[n / 2],
           1e3 * time[n - 1], n, (double)memory / 1024.0, 1e3 * wanted);
    return time[n / 2];
}

/* Questions that need many runs, without figures, on two threads and on one. */
static void both(const char *what, char *program, char *command, char *scenario, char *out, double wanted)
{
    enum { THREADS = 6, TIMES = 3 };
    char *words[] = {program, command, "--quiet", "--no-figures", "--force", "--threads",
                     "2",     "--out", out,       scenario,       NULL};
    const double two = report(what, words, TIMES, wanted);
    words[THREADS] = "1";
    const double one = report("  on one thread", words, TIMES, 2.0 * wanted);
    printf("  two threads are %.2f times one (wanted: 1.9)\n", one / two);
}

int main(int argc, char *argv[])
{
    if (argc != 4) return EXIT_FAILURE;
    char *plain[] = {argv[1], "run", "--quiet", "--no-figures", "--force", "--out", argv[3], argv[2], NULL};
    char *drawn[] = {argv[1], "run", "--quiet", "--force", "--out", argv[3], argv[2], NULL};
    report("run without figures", plain, MOST, 0.3);
    report("run with figures", drawn, 7, 1.5);

    both("compare, four choices", argv[1], "compare", "scenarios/compare/pulse_widths.yaml", argv[3], 2.0);
    both("window of 60 x 60", argv[1], "window", argv[2], argv[3], 5.0);
    both("spread, 256 draws", argv[1], "spread", argv[2], argv[3], 20.0);
    return EXIT_SUCCESS;
}
