#include "command/patience.h"

#include "report/seconds.h"

#include <errno.h>
#include <math.h>
#include <pthread.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#define QUIET_FOR 1.0 /* nothing is said in the first second [s] */
#define EVERY     0.2 /* counts [s] */

static volatile sig_atomic_t stop_asked;
static double began, said;
static struct sigaction before;
static int taken;
static const char *counted;

/* Who tells of it may be any thread of the work, and the clock below. */
static pthread_mutex_t one_at_a_time = PTHREAD_MUTEX_INITIALIZER;
static pthread_cond_t enough;
static pthread_t clock_thread;
static bool ticking, over, counts;

static void ask_to_stop(int signal_number)
{
    static const char said_so[] = "\nstopping; what is done is kept\n";
    const int number = errno; /* of what was interrupted */
    stop_asked = 1;
    (void)!write(STDERR_FILENO, said_so, sizeof said_so - 1);
    sigaction(signal_number, &before, NULL);
    errno = number;
}

static void tell(void *context, uint64_t done, uint64_t wanted, double error)
{
    (void)context;
    pthread_mutex_lock(&one_at_a_time);
    const double time = brv_seconds(CLOCK_MONOTONIC), passed = time - began;
    if (passed >= QUIET_FOR && time - said >= EVERY && done > 0) {
        said = time;
        counts = true;
        fprintf(stderr, isfinite(error) ? "\r%.3g of at most %.3g %s" : "\r%.4g of %.4g %s", (double)done,
                (double)wanted, counted);
        if (isfinite(error)) fprintf(stderr, ", standard error %.2g %%", 100.0 * error);
        fprintf(stderr, ", %s%.0f s left   ", isfinite(error) ? "at most " : "",
                passed * ((double)wanted / (double)done - 1.0));
    }
    pthread_mutex_unlock(&one_at_a_time);
}

/* Where nothing is counted, how long it has been at work: every second, until somebody counts. */
static void *tick(void *nothing)
{
    struct timespec next;
    clock_gettime(CLOCK_MONOTONIC, &next);
    pthread_mutex_lock(&one_at_a_time);
    while (!over) {
        next.tv_sec++;
        while (!over && pthread_cond_timedwait(&enough, &one_at_a_time, &next) != ETIMEDOUT) continue;
        if (over || counts) continue;
        said = brv_seconds(CLOCK_MONOTONIC);
        fprintf(stderr, "\rat work for %.0f s   ", said - began);
    }
    pthread_mutex_unlock(&one_at_a_time);
    return nothing;
}

/* The clock takes no signals: who is asked to stop is the program's first thread, as without it. It goes by the time that
 * never jumps: after the time of day had been put forward by an hour it would tell of 3600 seconds at once.         */
static void start_clock(void)
{
    sigset_t all, own;
    pthread_condattr_t steady;
    if (pthread_condattr_init(&steady)) return;
    const int failed = pthread_condattr_setclock(&steady, CLOCK_MONOTONIC) || pthread_cond_init(&enough, &steady);
    pthread_condattr_destroy(&steady);
    if (failed) return;
    sigfillset(&all);
    pthread_sigmask(SIG_SETMASK, &all, &own);
    ticking = !pthread_create(&clock_thread, NULL, tick, NULL);
    pthread_sigmask(SIG_SETMASK, &own, NULL);
    if (!ticking) pthread_cond_destroy(&enough);
}

void brv_patience_begin(struct brv_control *control, unsigned threads, int interruptible, const char *what)
{
    *control = (struct brv_control){.threads = threads};
    began = brv_seconds(CLOCK_MONOTONIC);
    said = 0.0;
    stop_asked = 0;
    counted = what;
    counts = over = false;
    if (isatty(STDERR_FILENO)) {
        control->progress = tell;
        start_clock();
    }
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
    if (ticking) {
        pthread_mutex_lock(&one_at_a_time);
        over = true;
        pthread_cond_signal(&enough);
        pthread_mutex_unlock(&one_at_a_time);
        pthread_join(clock_thread, NULL);
        pthread_cond_destroy(&enough);
        ticking = false;
    }
    if (said > 0.0) fputs("\r\033[K", stderr);
    if (taken) sigaction(SIGINT, &before, NULL);
    taken = 0;
}
