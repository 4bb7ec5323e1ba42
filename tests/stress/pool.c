#include "stress/pool.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

enum { TABLE_ROWS = 10, TELL_EVERY = 10, MOST_AT_ONCE = 8 };

/* ---- processes ---- */

/* Findings lie in a file without a name, which every process maps. */
bool stress_pool_build(struct stress_pool *pool, size_t n)
{
    const size_t size = n * sizeof *pool->finding;
    *pool = (struct stress_pool){.n = n, .at_once = 2};
    FILE *file = tmpfile();
    pool->number = calloc(n, sizeof *pool->number);
    if (!file || !pool->number || ftruncate(fileno(file), (off_t)size)) return false;
    void *shared = mmap(NULL, size, PROT_READ | PROT_WRITE, MAP_SHARED, fileno(file), 0);
    fclose(file);
    pool->finding = shared == MAP_FAILED ? NULL : shared;
    return pool->finding != NULL;
}

void stress_pool_free(struct stress_pool *pool)
{
    if (pool->finding) munmap(pool->finding, pool->n * sizeof *pool->finding);
    free(pool->number);
    *pool = (struct stress_pool){.n = 0};
}

static void bound_process(unsigned seconds, size_t megabytes)
{
    const struct rlimit time = {seconds, seconds + 5}, memory = {megabytes << 20, megabytes << 20}, none = {0, 0};
    setrlimit(RLIMIT_CORE, &none);
    setrlimit(RLIMIT_CPU, &time);
    if (megabytes) setrlimit(RLIMIT_AS, &memory);
    alarm(10 * seconds);
}

static pid_t start(struct stress_pool *pool, size_t i, stress_work *work, const void *context, unsigned seconds,
                   size_t megabytes)
{
    fflush(NULL);
    const pid_t child = fork();
    if (child != 0) return child;
    bound_process(seconds, megabytes);
    work(&pool->finding[i], i, context);
    _exit(EXIT_SUCCESS);
}

/* A process that did not end well has not finished its finding. */
static void keep_end(struct stress_finding *finding, int ended)
{
    finding->ended = ended;
    if (WIFEXITED(ended) && WEXITSTATUS(ended) == EXIT_SUCCESS) return;
    finding->outcome = STRESS_LOST;
    if (WIFSIGNALED(ended))
        snprintf(finding->broken, STRESS_WORDS, "%s by signal %d%s", finding->ran ? "stopped in a check" : "stopped",
                 WTERMSIG(ended), WTERMSIG(ended) == SIGXCPU || WTERMSIG(ended) == SIGALRM ? ", too long" : "");
    else
        snprintf(finding->broken, STRESS_WORDS, "ended with %d", WEXITSTATUS(ended));
}

/* How far it is, and at once what does not hold: a run of an hour is not waited for to look at it. */
static void tell(const struct stress_pool *pool, size_t i, size_t done)
{
    const struct stress_finding *one = &pool->finding[i];
    if (one->outcome != STRESS_ANSWERED && one->outcome != STRESS_NO_NUMBERS)
        fprintf(stderr, "stress: %zu: %s: found %.3g, allowed %.3g; %.1f s\n", pool->number[i], one->broken, one->found,
                one->bound, one->seconds);
    if (done % TELL_EVERY == 0) fprintf(stderr, "stress: %zu of %zu\n", done, pool->n);
}

void stress_pool_run(struct stress_pool *pool, stress_work *work, const void *context, unsigned seconds,
                     size_t megabytes, bool told)
{
    pid_t child[MOST_AT_ONCE];
    size_t which[MOST_AT_ONCE], running = 0, next = 0, done = 0;
    while (done < pool->n) {
        while (running < pool->at_once && next < pool->n) {
            which[running] = next;
            child[running] = start(pool, next++, work, context, seconds, megabytes);
            if (child[running] < 0) abort();
            running++;
        }
        int ended = 0;
        const pid_t one = waitpid(-1, &ended, 0);
        for (size_t k = 0; k < running; k++) {
            if (child[k] != one) continue;
            keep_end(&pool->finding[which[k]], ended);
            if (told) tell(pool, which[k], done + 1);
            running--;
            child[k] = child[running];
            which[k] = which[running];
            done++;
            break;
        }
    }
}

/* Slow, and nothing worse. */
static bool is_slow(const struct stress_finding *finding)
{
    if (finding->outcome == STRESS_BROKEN) return strcmp(finding->broken, STRESS_SLOW) == 0;
    return finding->outcome == STRESS_ANSWERED && finding->seconds > STRESS_SECONDS;
}

void stress_pool_again(struct stress_pool *pool, stress_work *work, const void *context, unsigned seconds,
                       size_t megabytes)
{
    for (size_t i = 0; i < pool->n; i++) {
        struct stress_finding *finding = &pool->finding[i];
        if (!is_slow(finding)) continue;
        const struct stress_finding before = *finding;
        *finding = (struct stress_finding){.outcome = STRESS_LOST};
        int ended = 0;
        const pid_t child = start(pool, i, work, context, seconds, megabytes);
        if (child < 0 || waitpid(child, &ended, 0) != child) abort();
        keep_end(finding, ended);
        const bool slower = is_slow(finding) && finding->seconds > before.seconds;
        fprintf(stderr, "stress: %zu took %.1f s beside another, %.1f s alone\n", pool->number[i], before.seconds,
                finding->seconds);
        if (slower) *finding = before;
    }
}

void stress_pool_number(struct stress_pool *pool, const struct stress_design *design)
{
    const size_t rows = pool->n / 2 < design->n_row ? pool->n / 2 : design->n_row;
    for (size_t i = 0; i < pool->n; i++) pool->number[i] = i < rows ? i * design->n_row / rows : STRESS_WIDE + i - rows;
}

/* ---- the table ---- */

static const struct stress_pool *sorted_pool; /* qsort hands nothing on */
static double (*sorted_by)(const struct stress_finding *finding);

static double by_seconds(const struct stress_finding *finding)
{
    return finding->seconds;
}

static double by_share(const struct stress_finding *finding)
{
    return finding->worst;
}

static double by_megabytes(const struct stress_finding *finding)
{
    return finding->megabytes;
}

static int compare(const void *a, const void *b)
{
    const size_t i = *(const size_t *)a, k = *(const size_t *)b;
    const double x = sorted_by(&sorted_pool->finding[i]), y = sorted_by(&sorted_pool->finding[k]);
    return x < y ? 1 : x > y ? -1 : (i > k) - (i < k);
}

static size_t *sorted(const struct stress_pool *pool, double (*by)(const struct stress_finding *finding))
{
    size_t *order = calloc(pool->n, sizeof *order);
    if (!order) abort();
    for (size_t i = 0; i < pool->n; i++) order[i] = i;
    sorted_pool = pool;
    sorted_by = by;
    qsort(order, pool->n, sizeof *order, compare);
    return order;
}

static void print_worst(FILE *file, const struct stress_pool *pool)
{
    size_t *order = sorted(pool, by_share);
    fprintf(file, "nearest to a bound (share of it)\n");
    for (size_t i = 0; i < pool->n && i < TABLE_ROWS; i++) {
        const struct stress_finding *one = &pool->finding[order[i]];
        fprintf(file, "  %5zu  %9.3g  %s\n", pool->number[order[i]], one->worst, one->worst_of);
    }
    free(order);
}

static void print_most(FILE *file, const struct stress_pool *pool, const char *what,
                       double (*by)(const struct stress_finding *finding), size_t rows)
{
    size_t *order = sorted(pool, by);
    fprintf(file, "%s\n", what);
    for (size_t i = 0; i < pool->n && i < rows; i++)
        fprintf(file, "  %5zu  %7.2f s  %6.0f MB\n", pool->number[order[i]], pool->finding[order[i]].seconds,
                pool->finding[order[i]].megabytes);
    free(order);
}

static void print_outcome(FILE *file, const struct stress_pool *pool, int outcome)
{
    for (size_t i = 0; i < pool->n; i++) {
        const struct stress_finding *one = &pool->finding[i];
        if (one->outcome == outcome)
            fprintf(file, "  %5zu  %s: found %.3g, allowed %.3g\n", pool->number[i], one->broken, one->found,
                    one->bound);
    }
}

size_t stress_table(FILE *file, const struct stress_pool *pool, bool times)
{
    static const char *const name[STRESS_N_OUTCOME] = {"lost (died or was stopped)", "answered, and all holds",
                                                       "no numbers, with the reason", "broken"};
    size_t count[STRESS_N_OUTCOME] = {0}, threads = 0, linear = 0, program = 0, slow = 0;
    double whole = 0.0;
    for (size_t i = 0; i < pool->n; i++) {
        count[pool->finding[i].outcome]++;
        threads += pool->finding[i].threads;
        linear += pool->finding[i].linear;
        program += pool->finding[i].program;
        slow += pool->finding[i].seconds > STRESS_SECONDS;
        whole += pool->finding[i].seconds;
    }
    fprintf(file, "%zu scenarios; %zu also with two threads, %zu again for linearity, %zu also by the program\n",
            pool->n, threads, linear, program);
    for (int k = 0; k < STRESS_N_OUTCOME; k++) fprintf(file, "  %5zu  %s\n", count[k], name[k]);
    for (int k = 0; k < STRESS_N_OUTCOME; k++) {
        if (k == STRESS_ANSWERED || count[k] == 0) continue;
        fprintf(file, "%s\n", name[k]);
        print_outcome(file, pool, k);
    }
    print_worst(file, pool);
    if (times) {
        fprintf(file, "%zu took more than %g s of one core\n", slow, STRESS_SECONDS);
        print_most(file, pool, "slowest", by_seconds, slow > TABLE_ROWS ? slow : TABLE_ROWS);
        print_most(file, pool, "largest", by_megabytes, TABLE_ROWS);
        fprintf(file, "%.0f s of runs in all, %.2f s each\n", whole, whole / (double)pool->n);
    }
    return count[STRESS_LOST] + count[STRESS_BROKEN];
}
