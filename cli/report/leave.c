#define _GNU_SOURCE /* syscall */
#include "report/leave.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <sys/syscall.h>
#include <unistd.h>

/* As many children as there can be pictures at a time; a directory as long as a path may be. */
enum { MOST_CHILDREN = 64, PATH_ROOM = 4096, ENTRIES_ROOM = 4096, TRIES = 8 };

static const int signals[] = {SIGINT, SIGTERM, SIGHUP};
enum { N_SIGNAL = sizeof signals / sizeof *signals };

/* What the handler reads: each is whole at any moment. */
static atomic_int children[MOST_CHILDREN];
static atomic_bool has_folder;
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
static void remove_folder(const char *name)
{
    for (int i = 0; i < TRIES; i++) {
        const int folder = open(name, O_RDONLY | O_DIRECTORY | O_CLOEXEC | O_NOFOLLOW);
        if (folder < 0) return;
        remove_files(folder);
        close(folder);
        if (!rmdir(name)) return;
    }
}

static void leave(int signal_number)
{
    const int why = errno;
    for (size_t i = 0; i < MOST_CHILDREN; i++) {
        const int child = atomic_load(&children[i]);
        if (child > 0) kill(-child, SIGKILL);
    }
    if (atomic_exchange(&has_folder, false)) remove_folder(folder_name);
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

void brv_leave_remove(const char *folder)
{
    atomic_store(&has_folder, false);
    if (!folder || strlen(folder) >= PATH_ROOM) return;
    snprintf(folder_name, sizeof folder_name, "%s", folder);
    atomic_store(&has_folder, true);
    listen_once();
}

int brv_leave_end(pid_t child)
{
    for (int i = 0; i < MOST_CHILDREN; i++) {
        int none = 0;
        if (atomic_compare_exchange_strong(&children[i], &none, (int)child)) return i;
    }
    return -1;
}

void brv_leave_ended(int place)
{
    if (place >= 0) atomic_store(&children[place], 0);
}
