#define _GNU_SOURCE /* pipe2 */
#include "report/child.h"

#include "report/leave.h"
#include "report/seconds.h"
#include "scenario/letters.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { PATH_ROOM = 4096, TAIL_SIZE = 1024, NAP = 5 /* [ms] */ };

/* ---- where it is ---- */

/* The first such program in PATH. Only folders named from / on: an empty or relative one is whatever folder the user
 * happens to stand in, and a file from a stranger may lie there. False: there is none.                            */
static bool look_up(char path[PATH_ROOM], const char *name)
{
    const char *folders = getenv("PATH");
    if (!folders) folders = "/usr/local/bin:/usr/bin:/bin";
    for (const char *folder = folders; *folder;) {
        const size_t length = strcspn(folder, ":");
        const int n = snprintf(path, PATH_ROOM, "%.*s/%s", (int)length, folder, name);
        struct stat there;
        if (*folder == '/' && n > 0 && n < PATH_ROOM && !stat(path, &there) && S_ISREG(there.st_mode) &&
            !access(path, X_OK))
            return true;
        folder += length + (folder[length] == ':');
    }
    return false;
}

/* ---- what it says ---- */

/* The end of it: a script that fails names its trouble last, whatever it warned of before. */
struct tail {
    char text[TAIL_SIZE + 1];
    size_t n;
    bool closed; /* nobody can say more */
};

static void keep(struct tail *tail, const char *more, size_t n)
{
    if (n >= TAIL_SIZE) {
        memcpy(tail->text, more + n - TAIL_SIZE, TAIL_SIZE);
        tail->n = TAIL_SIZE;
        return;
    }
    const size_t kept = tail->n + n > TAIL_SIZE ? TAIL_SIZE - n : tail->n;
    memmove(tail->text, tail->text + tail->n - kept, kept);
    memcpy(tail->text + kept, more, n);
    tail->n = kept + n;
}

/* Takes what is there, but not for ever: a child may talk faster than it is listened to. */
static void listen(struct tail *tail, int from)
{
    char more[4096];
    for (int i = 0; i < 64 && !tail->closed; i++) {
        const ssize_t n = read(from, more, sizeof more);
        if (n > 0)
            keep(tail, more, (size_t)n);
        else if (n == 0)
            tail->closed = true;
        else if (errno != EINTR)
            return;
    }
}

/* The last line that is not blank. */
static void last_line(struct tail *tail, char *line, size_t room)
{
    size_t end = tail->n;
    while (end > 0 && strchr(" \t\r\n", tail->text[end - 1])) end--;
    tail->text[end] = '\0';
    const char *start = tail->text;
    for (size_t i = 0; i < end; i++)
        if (tail->text[i] == '\n' || !tail->text[i]) start = tail->text + i + 1;
    while (*start == ' ' || *start == '\t' || *start == '\r') start++;
    brv_letters_shown(line, room, start);
}

/* ---- its life ---- */

static int spawn(pid_t *child, const char *path, char *const argument[], char *const environment[], int complaints,
                 const sigset_t *mask)
{
    posix_spawn_file_actions_t actions;
    posix_spawnattr_t attributes;
    int failed = posix_spawn_file_actions_init(&actions);
    if (failed) return failed;
    failed = posix_spawnattr_init(&attributes);
    if (failed) {
        posix_spawn_file_actions_destroy(&actions);
        return failed;
    }
    sigset_t plain; /* what the program ignores meanwhile (report/leave.h) its child does not */
    sigemptyset(&plain);
    sigaddset(&plain, SIGPIPE);
    failed =
        posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETPGROUP | POSIX_SPAWN_SETSIGMASK | POSIX_SPAWN_SETSIGDEF);
    if (!failed) failed = posix_spawnattr_setsigdefault(&attributes, &plain);
    if (!failed) failed = posix_spawnattr_setsigmask(&attributes, mask);
    if (!failed) failed = posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
    if (!failed) failed = posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
    if (!failed) failed = posix_spawn_file_actions_adddup2(&actions, complaints, STDERR_FILENO);
    if (!failed) failed = posix_spawn(child, path, &actions, &attributes, argument, environment);
    posix_spawnattr_destroy(&attributes);
    posix_spawn_file_actions_destroy(&actions);
    return failed;
}

static void rest(const struct tail *tail, int from)
{
    struct pollfd watched = {.fd = from, .events = POLLIN};
    const struct timespec nap = {.tv_nsec = NAP * 1000000L};
    if (tail->closed)
        nanosleep(&nap, NULL);
    else
        poll(&watched, 1, NAP);
}

/* Waits, listening; ends it when it takes too long or is called off. */
static enum brv_child_end wait_for(pid_t child, double limit, const atomic_bool *call_off, int from, struct tail *tail,
                                   int *status)
{
    const double until = brv_seconds(CLOCK_MONOTONIC) + limit;
    enum brv_child_end end = BRV_CHILD_DONE;
    for (;;) {
        listen(tail, from);
        const pid_t done = waitpid(child, status, end == BRV_CHILD_DONE ? WNOHANG : 0);
        if (done == child) break;
        if (done < 0 && errno != EINTR) return BRV_CHILD_FAILED;
        if (end != BRV_CHILD_DONE) continue;
        if (atomic_load(call_off))
            end = BRV_CHILD_CALLED_OFF;
        else if (brv_seconds(CLOCK_MONOTONIC) > until)
            end = BRV_CHILD_TOO_LONG;
        if (end == BRV_CHILD_DONE)
            rest(tail, from);
        else
            kill(-child, SIGKILL);
    }
    listen(tail, from);
    kill(-child, SIGKILL); /* what it left running would go on for nobody */
    if (end != BRV_CHILD_DONE) return end;
    return WIFEXITED(*status) && WEXITSTATUS(*status) == 0 ? BRV_CHILD_DONE : BRV_CHILD_FAILED;
}

/* For a child that failed: its last line, else what is known of its end. */
static void explain(struct tail *tail, int status, char *said, size_t room)
{
    last_line(tail, said, room);
    if (WIFSIGNALED(status))
        snprintf(said, room, "it was ended by signal %d, %s", WTERMSIG(status), strsignal(WTERMSIG(status)));
    else if (!*said)
        snprintf(said, room, "it did not say why (exit code %d)", WEXITSTATUS(status));
}

/* Starts it and hands it to who ends it when the program is told to go. */
static enum brv_child_end start(pid_t *child, int *place, char *const argument[], char *const environment[],
                                int complaints, char *said, size_t room)
{
    sigset_t before;
    char path[PATH_ROOM];
    *child = 0;
    if (!look_up(path, argument[0])) return BRV_CHILD_MISSING;
    if (!brv_leave_hold(&before)) return BRV_CHILD_CALLED_OFF;
    const int failed = spawn(child, path, argument, environment, complaints, &before);
    *place = brv_leave_end(failed ? 0 : *child, &before);
    if (failed) snprintf(said, room, "%s", strerror(failed));
    return failed == ENOENT ? BRV_CHILD_MISSING : failed ? BRV_CHILD_NOT_STARTED : BRV_CHILD_DONE;
}

enum brv_child_end brv_child_run(char *const argument[], char *const environment[], double limit,
                                 const atomic_bool *call_off, char *said, size_t room)
{
    int ends[2], status = 0, place = -1;
    pid_t child;
    struct tail tail = {.n = 0};
    *said = '\0';
    if (pipe2(ends, O_CLOEXEC)) {
        snprintf(said, room, "%s", strerror(errno));
        return BRV_CHILD_NOT_STARTED;
    }
    fcntl(ends[0], F_SETFL, O_NONBLOCK);
    enum brv_child_end end = start(&child, &place, argument, environment, ends[1], said, room);
    close(ends[1]);
    if (end == BRV_CHILD_DONE) {
        end = wait_for(child, limit, call_off, ends[0], &tail, &status);
        brv_leave_ended(place);
        if (end == BRV_CHILD_FAILED) explain(&tail, status, said, room);
    }
    close(ends[0]);
    return end;
}
