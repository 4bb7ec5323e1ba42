#define _GNU_SOURCE /* syscall */
#include "report/leave.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <sys/syscall.h>
#include <time.h>
#include <unistd.h>

/* As many children as there can be pictures at a time; a directory as long as a path may be. */
enum { MOST_CHILDREN = 64, PATH_ROOM = 4096, ENTRIES_ROOM = 4096, TRIES = 8, MOST_NAPS = 1000 };

static const int signals[] = {SIGINT, SIGTERM, SIGHUP, SIGQUIT, SIGXCPU, SIGALRM, SIGUSR1, SIGUSR2};
enum { N_SIGNAL = sizeof signals / sizeof *signals };

/* What the handler reads: each is whole at any moment. */
static atomic_int children[MOST_CHILDREN];
static atomic_int starting; /* children that are being started, not yet among them */
static atomic_bool going, has_folder;
static char folder_name[PATH_ROOM];

/* ---- in the handler: nothing that may hold a lock, so neither malloc nor opendir ---- */

struct entry { /* as the kernel hands it over; the C library keeps this to itself */
    uint64_t inode;
    int64_t next;
    unsigned short length;
    unsigned char type;
    char name[];
};

static void remove_files(int folder)
{
    _Alignas(struct entry) char room[ENTRIES_ROOM];
    for (long n; (n = syscall(SYS_getdents64, folder, room, sizeof room)) > 0;)
        for (long at = 0; at < n;) {
            const struct entry *entry = (const struct entry *)(const void *)(room + at);
            if (strcmp(entry->name, ".") && strcmp(entry->name, "..")) unlinkat(folder, entry->name, 0);
            at += entry->length;
        }
}

/* Other threads may still be writing into it: tried more than once. */
void brv_leave_empty(const char *name)
{
    for (int i = 0; i < TRIES; i++) {
        const int folder = open(name, O_RDONLY | O_DIRECTORY | O_CLOEXEC | O_NOFOLLOW);
        if (folder < 0) return;
        remove_files(folder);
        close(folder);
        if (!rmdir(name)) return;
    }
}

void brv_leave_now(void)
{
    const struct timespec nap = {.tv_nsec = 1000000};
    atomic_store(&going, true); /* a thread whose picture ends now must not begin the next one */
    for (int i = 0; i < MOST_NAPS && atomic_load(&starting); i++) nanosleep(&nap, NULL);
    for (size_t i = 0; i < MOST_CHILDREN; i++) {
        const int child = atomic_load(&children[i]);
        if (child > 0) kill(-child, SIGKILL);
    }
    if (atomic_exchange(&has_folder, false)) brv_leave_empty(folder_name);
}

/* Some send a signal twice, to a process and to its group. The second, which another thread may get, must not end the process
 * while the first is still at work; that one ends it.                                                                   */
static void leave(int signal_number)
{
    static atomic_bool leaving;
    const int why = errno;
    if (atomic_exchange(&leaving, true)) return;
    brv_leave_now();
    errno = why;
    signal(signal_number, SIG_DFL);
    raise(signal_number);
}

/* ---- outside of it ---- */

static void listen_once(void)
{
    static bool listening;
    struct sigaction action, before;
    if (listening) return;
    listening = true;
    memset(&action, 0, sizeof action);
    action.sa_handler = leave;
    for (size_t i = 0; i < N_SIGNAL; i++)
        if (!sigaction(signals[i], NULL, &before) && before.sa_handler == SIG_DFL) sigaction(signals[i], &action, NULL);
}

/* Who no longer reads what is said on the way must not cost the result: while a folder is written, such words fail like any
 * other write. What is ignored already stays so.                                                                     */
static void ignore_no_reader(bool ignored)
{
    static bool ours;
    struct sigaction now;
    if (ignored && !sigaction(SIGPIPE, NULL, &now) && now.sa_handler == SIG_DFL) {
        signal(SIGPIPE, SIG_IGN);
        ours = true;
    } else if (!ignored && ours) {
        signal(SIGPIPE, SIG_DFL);
        ours = false;
    }
}

void brv_leave_remove(const char *folder)
{
    atomic_store(&has_folder, false);
    ignore_no_reader(folder != NULL);
    if (!folder || strlen(folder) >= PATH_ROOM) return;
    snprintf(folder_name, sizeof folder_name, "%s", folder);
    atomic_store(&has_folder, true);
    listen_once();
}

bool brv_leave_hold(sigset_t *before)
{
    sigset_t held;
    sigemptyset(&held);
    for (size_t i = 0; i < N_SIGNAL; i++) sigaddset(&held, signals[i]);
    pthread_sigmask(SIG_BLOCK, &held, before);
    atomic_fetch_add(&starting, 1);
    if (!atomic_load(&going)) return true;
    brv_leave_end(0, before);
    return false;
}

int brv_leave_end(pid_t child, const sigset_t *before)
{
    int place = -1;
    for (int i = 0; i < MOST_CHILDREN && child > 0 && place < 0; i++) {
        int none = 0;
        if (atomic_compare_exchange_strong(&children[i], &none, (int)child)) place = i;
    }
    atomic_fetch_sub(&starting, 1);
    pthread_sigmask(SIG_SETMASK, before, NULL);
    return place;
}

void brv_leave_ended(int place)
{
    if (place >= 0) atomic_store(&children[place], 0);
}
