#include "command/patience.h"

#include "report/seconds.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#define QUIET_FOR 1.0 /* nothing is said in the first second [s] */
#define EVERY     0.2 /* [s] */

static volatile sig_atomic_t stop_asked;
static double began, said;
static struct sigaction before;
static int taken;
static const char *counted;

static void ask_to_stop(int signal_number)
{
    static const char said_so[] = "\nstopping; what is done is kept\n";
    stop_asked = 1;
    (void)!write(STDERR_FILENO, said_so, sizeof said_so - 1);
    sigaction(signal_number, &before, NULL);
}

static void tell(void *context, uint64_t done, uint64_t wanted, double error)
{
    (void)context;
    const double time = brv_seconds(CLOCK_MONOTONIC), passed = time - began;
    if (passed < QUIET_FOR || time - said < EVERY || done == 0) return;
    said = time;
    fprintf(stderr, isfinite(error) ? "\r%.3g of at most %.3g %s" : "\r%.4g of %.4g %s", (double)done, (double)wanted,
            counted);
    if (isfinite(error)) fprintf(stderr, ", standard error %.2g %%", 100.0 * error);
    fprintf(stderr, ", %s%.0f s left   ", isfinite(error) ? "at most " : "",
            passed * ((double)wanted / (double)done - 1.0));
}

void brv_patience_begin(struct brv_control *control, unsigned threads, int interruptible, const char *what)
{
    *control = (struct brv_control){.threads = threads};
    began = brv_seconds(CLOCK_MONOTONIC);
    said = 0.0;
    stop_asked = 0;
    counted = what;
    if (isatty(STDERR_FILENO)) control->progress = tell;
    taken = interruptible;
    if (!interruptible) return;
    struct sigaction action;
    memset(&action, 0, sizeof action);
    action.sa_handler = ask_to_stop;
    sigaction(SIGINT, &action, &before);
    control->stop = &stop_asked;
}

void brv_patience_end(void)
{
    if (said > 0.0) fputs("\r\033[K", stderr);
    if (taken) sigaction(SIGINT, &before, NULL);
    taken = 0;
}
