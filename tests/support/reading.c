#include "support/reading.h"

#include "support/check.h"

#include "command/command.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

const char whole[] = "title: Everything that can be said\n"
                     "light:\n"
                     "  wavelength: 694.3 nm\n"
                     "  pulse: 28.5 ns\n"
                     "  shape: square\n"
                     "  spot: 5.3 mm\n"
                     "  profile: gaussian\n"
                     "  energy: 412 mJ\n"
                     "skin:\n"
                     "  - layer: stratum corneum\n"
                     "    kind: horny\n"
                     "    thickness: 13.7 um\n"
                     "  - layer: basal\n"
                     "    thickness: 11.3 um\n"
                     "    melanosomes: 7.9 %\n"
                     "    saturation: 61.5 %\n"
                     "  - layer: dermis\n"
                     "    thickness: 1.91 mm\n"
                     "    absorption: 0.83 /cm\n"
                     "    scattering: 187 /cm\n"
                     "    anisotropy: 0.79\n"
                     "lesion:\n"
                     "  basal.melanosomes: 23.1 %\n"
                     "  grain: {diameter: 0.61 um}\n"
                     "  dermis:\n"
                     "    blood: 0.7 %\n"
                     "grain:\n"
                     "  darkness: 1.7\n"
                     "  layer: basal\n"
                     "surface:\n"
                     "  outside: gel\n"
                     "  temperature: 31.4 degC\n"
                     "below:\n"
                     "  index: 1.43\n"
                     "  returns: nothing\n"
                     "watch:\n"
                     "  depths: [0 um, 17.3 um, 0.9 mm]\n"
                     "  until: 1.5 min\n";

/* Messages with the temporary file's name replaced. */
static void keep_messages(struct outcome *outcome, const struct brv_faults *faults, const char *path)
{
    size_t n = 0;
    outcome->messages[0] = '\0';
    for (size_t i = 0; i < faults->n && n < MESSAGES_SIZE; i++) {
        const struct brv_fault *fault = &faults->fault[i];
        const char *file = strcmp(fault->file, path) ? fault->file : "FILE";
        n += (size_t)snprintf(outcome->messages + n, MESSAGES_SIZE - n, "%s:%d:%d: %s\n", file, fault->line,
                              fault->column, fault->text);
    }
}

struct outcome read_with(const char *text, const char *const set[], size_t n_set)
{
    struct outcome outcome;
    struct brv_faults faults = {0};
    char path[] = "/tmp/brevis_request_XXXXXX";
    const int file = mkstemp(path);
    assert_true(file >= 0);
    assert_int_equal(write(file, text, strlen(text)), (ssize_t)strlen(text));
    close(file);
    outcome.code = brv_request_read(&outcome.request, path, set, n_set, &faults);
    unlink(path);
    keep_messages(&outcome, &faults, path);
    brv_faults_free(&faults);
    return outcome;
}

struct outcome read_text(const char *text)
{
    return read_with(text, NULL, 0);
}

struct brv_scenario sound_with(const char *text, const char *const set[], size_t n_set)
{
    const struct outcome outcome = read_with(text, set, n_set);
    if (outcome.code) fail_msg("refused:\n%s", outcome.messages);
    return outcome.request.scenario;
}

struct brv_scenario sound(const char *text)
{
    return sound_with(text, NULL, 0);
}

void refused_with(const char *text, const char *const set[], size_t n_set, const char *messages)
{
    const struct outcome outcome = read_with(text, set, n_set);
    assert_string_equal(outcome.messages, messages);
    assert_int_equal(outcome.code, BRV_EXIT_REFUSED);
}

void refused(const char *text, const char *messages)
{
    refused_with(text, NULL, 0, messages);
}
