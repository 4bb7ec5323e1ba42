/* The N-th call that asks for memory fails. Built twice (tests/faults/faults.mk):
 *   - linked into a program of its own by --wrap, with the archives of GSL, libyaml and libgomp: every call of theirs and of
 *     the program is counted under the address sanitizer. What the C library asks for inside is out of reach there, so its
 *     entry points that ask (fopen, opendir, vasprintf ...) are failed in its place;
 *   - with -DPRELOAD as a library in front of any brevis: whatever is asked of malloc is counted, also by the C library.
 *     BREVIS_FAIL_AT=N        the N-th call fails, once
 *     BREVIS_FAIL_ON=1        and all after it as well
 *     BREVIS_FAIL_COUNT=FILE  how many calls there were is written there at the end                              */
#define _GNU_SOURCE
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <pthread.h>
#include <spawn.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static atomic_ulong calls;
static unsigned long fail_at;
static bool for_ever, asked;
static char count_path[4096];

/* Before the first thread there is: libgomp's own start asks for memory. */
static void ask_once(void)
{
    if (asked) return;
    asked = true;
    const char *at = getenv("BREVIS_FAIL_AT");
    fail_at = at ? strtoul(at, NULL, 10) : 0;
    for_ever = getenv("BREVIS_FAIL_ON") != NULL;
    const char *path = getenv("BREVIS_FAIL_COUNT");
    if (path) snprintf(count_path, sizeof count_path, "%s", path);
}

static bool fails(void)
{
    ask_once();
    const unsigned long n = atomic_fetch_add(&calls, 1) + 1;
    if (!fail_at || (for_ever ? n < fail_at : n != fail_at)) return false;
    errno = ENOMEM;
    return true;
}

/* Programs that brevis starts are to have all the memory they want. */
__attribute__((constructor)) static void keep_to_ourselves(void)
{
    ask_once();
    unsetenv("LD_PRELOAD");
}

__attribute__((destructor)) static void tell_count(void)
{
    char text[32];
    const int file = *count_path ? open(count_path, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666) : -1;
    if (file < 0) return;
    const int n = snprintf(text, sizeof text, "%lu\n", atomic_load(&calls));
    if (write(file, text, (size_t)n) != n) _exit(99);
    close(file);
}

#ifdef PRELOAD

void *__libc_malloc(size_t size);
void *__libc_calloc(size_t n, size_t size);
void *__libc_realloc(void *old, size_t size);
void *__libc_memalign(size_t to, size_t size);

void *malloc(size_t size)
{
    return fails() ? NULL : __libc_malloc(size);
}

void *calloc(size_t n, size_t size)
{
    return fails() ? NULL : __libc_calloc(n, size);
}

void *realloc(void *old, size_t size)
{
    return fails() ? NULL : __libc_realloc(old, size);
}

void *aligned_alloc(size_t to, size_t size)
{
    return fails() ? NULL : __libc_memalign(to, size);
}

int posix_memalign(void **at, size_t to, size_t size)
{
    void *made = fails() ? NULL : __libc_memalign(to, size);
    if (made) *at = made;
    return made ? 0 : ENOMEM;
}

#else

#define FAILING(type, name, none, takes, gives)                                                                        \
    type __real_##name takes;                                                                                          \
    type __wrap_##name takes;                                                                                          \
    type __wrap_##name takes                                                                                           \
    {                                                                                                                  \
        return fails() ? (none) : __real_##name gives;                                                                 \
    }

FAILING(void *, malloc, NULL, (size_t size), (size))
FAILING(void *, calloc, NULL, (size_t n, size_t size), (n, size))
FAILING(void *, realloc, NULL, (void *old, size_t size), (old, size))
FAILING(void *, aligned_alloc, NULL, (size_t to, size_t size), (to, size))
FAILING(void *, memalign, NULL, (size_t to, size_t size), (to, size))
FAILING(int, posix_memalign, ENOMEM, (void **at, size_t to, size_t size), (at, to, size))
FAILING(char *, strdup, NULL, (const char *text), (text))
FAILING(char *, strndup, NULL, (const char *text, size_t n), (text, n))
FAILING(FILE *, fopen, NULL, (const char *path, const char *how), (path, how))
FAILING(FILE *, fdopen, NULL, (int descriptor, const char *how), (descriptor, how))
FAILING(FILE *, open_memstream, NULL, (char **text, size_t *size), (text, size))
FAILING(ssize_t, getline, -1, (char **line, size_t *size, FILE *from), (line, size, from))
FAILING(DIR *, opendir, NULL, (const char *path), (path))
FAILING(int, nftw, -1, (const char *path, void *visit, int most, int flags), (path, visit, most, flags))
FAILING(int, vasprintf, -1, (char **made, const char *format, va_list rest), (made, format, rest))
FAILING(int, posix_spawn_file_actions_init, ENOMEM, (void *actions), (actions))
FAILING(int, posix_spawn_file_actions_addopen, ENOMEM,
        (void *actions, int to, const char *path, int flags, mode_t mode), (actions, to, path, flags, mode))
FAILING(int, posix_spawn_file_actions_adddup2, ENOMEM, (void *actions, int from, int to), (actions, from, to))
FAILING(int, posix_spawnp, ENOMEM,
        (pid_t * child, const char *file, const void *actions, const void *attributes, char *const argument[],
         char *const environment[]),
        (child, file, actions, attributes, argument, environment))
FAILING(int, pthread_create, EAGAIN,
        (pthread_t * thread, const pthread_attr_t *with, void *(*work)(void *), void *context),
        (thread, with, work, context))

#endif
