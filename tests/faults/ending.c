/* In front of brevis by LD_PRELOAD: ends it at its N-th deed on files or processes, just before the deed is done, so that
 * every step between two of them is a moment at which it was once ended; and shows it another time of day.
 *     BREVIS_END_AT=N         the N-th deed, counted over all threads
 *     BREVIS_END_SIGNAL=S     by this signal, 9 when none is given
 *     BREVIS_END_COUNT=FILE   how many deeds there were, when it ended by itself
 *     BREVIS_CLOCK=SECONDS    so much is added to the time of day; the clock that never goes back is left alone    */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <fcntl.h>
#include <signal.h>
#include <spawn.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static atomic_ulong deeds;
static unsigned long end_at;
static int end_signal;
static long later;
static char count_path[4096];

__attribute__((constructor)) static void ask(void)
{
    const char *at = getenv("BREVIS_END_AT"), *by = getenv("BREVIS_END_SIGNAL"), *path = getenv("BREVIS_END_COUNT"),
               *clock = getenv("BREVIS_CLOCK");
    end_at = at ? strtoul(at, NULL, 10) : 0;
    end_signal = by ? atoi(by) : SIGKILL;
    later = clock ? atol(clock) : 0;
    if (path) snprintf(count_path, sizeof count_path, "%s", path);
    unsetenv("LD_PRELOAD"); /* what brevis starts is left alone */
}

__attribute__((destructor)) static void tell(void)
{
    char text[32];
    const int file = *count_path ? openat(AT_FDCWD, count_path, O_WRONLY | O_CREAT | O_TRUNC, 0666) : -1;
    if (file < 0) return;
    const int n = snprintf(text, sizeof text, "%lu\n", atomic_load(&deeds));
    if (write(file, text, (size_t)n) != n) _exit(99);
    close(file);
}

static void deed(void)
{
    if (atomic_fetch_add(&deeds, 1) + 1 != end_at) return;
    kill(getpid(), end_signal);
    const struct timespec while_it_comes = {.tv_nsec = 2000000};
    nanosleep(&while_it_comes, NULL);
}

#define BEFORE(type, name, takes, gives)                                                                               \
    type name takes                                                                                                    \
    {                                                                                                                  \
        type(*const real) takes = (type(*) takes)dlsym(RTLD_NEXT, #name);                                              \
        deed();                                                                                                        \
        return real gives;                                                                                             \
    }

BEFORE(FILE *, fopen, (const char *path, const char *how), (path, how))
BEFORE(int, fclose, (FILE * file), (file))
BEFORE(int, fsync, (int file), (file))
BEFORE(int, flock, (int file, int how), (file, how))
BEFORE(int, mkdir, (const char *path, mode_t mode), (path, mode))
BEFORE(int, rmdir, (const char *path), (path))
BEFORE(int, remove, (const char *path), (path))
BEFORE(int, unlink, (const char *path), (path))
BEFORE(int, ftruncate, (int file, off_t size), (file, size))
BEFORE(int, rename, (const char *from, const char *to), (from, to))
BEFORE(int, renameat2, (int at, const char *from, int there, const char *to, unsigned how), (at, from, there, to, how))
BEFORE(int, posix_spawnp,
       (pid_t * child, const char *file, const posix_spawn_file_actions_t *actions, const posix_spawnattr_t *attributes,
        char *const argument[], char *const environment[]),
       (child, file, actions, attributes, argument, environment))

int clock_gettime(clockid_t clock, struct timespec *t)
{
    int (*const real)(clockid_t, struct timespec *) =
        (int (*)(clockid_t, struct timespec *))dlsym(RTLD_NEXT, "clock_gettime");
    const int failed = real(clock, t);
    if (!failed && clock == CLOCK_REALTIME) t->tv_sec += later;
    return failed;
}

time_t time(time_t *to)
{
    struct timespec t;
    clock_gettime(CLOCK_REALTIME, &t);
    if (to) *to = t.tv_sec;
    return t.tv_sec;
}
