/* A scenario file, as `brevis check` reads it: its choices too where it has some. */
#include "fuzz/fuzz.h"

#include "report/hash.h"
#include "scenario/choices.h"

#include <stdlib.h>
#include <string.h>

#define NAME "FILE"

static void check_request(const struct brv_request *request)
{
    struct brv_error fault[4];
    char hash[BRV_HASH_SIZE];
    fuzz_require(fuzz_is_utf8(request->title, strlen(request->title)), "a title of letters");
    for (size_t i = 0; i < request->scenario.skin[BRV_NEIGHBOUR].n_layer; i++)
        fuzz_require(*request->layer_name[i] && fuzz_is_plain(request->layer_name[i]), "a name of layer %zu", i);
    fuzz_require(brv_scenario_check(&request->scenario, fault, 4) == 0, "what is sound is sound when asked again");
    fuzz_require(strlen(brv_hash_scenario(hash, &request->scenario)) > 0, "a hash");
}

static int read_choices(const char *text, size_t size, struct brv_faults *faults)
{
    struct brv_choices choices;
    const int code = brv_choices_parse(&choices, NAME, text, size, NULL, 0, faults);
    fuzz_require(code || choices.n > 0, "a sound file has a choice");
    for (size_t i = 0; i < choices.n && !code; i++) {
        check_request(&choices.choice[i].request);
        fuzz_require(fuzz_is_plain(choices.choice[i].name), "a name of choice %zu", i);
        fuzz_require(fuzz_is_plain(choices.choice[i].changes), "changes of choice %zu: %s", i,
                     choices.choice[i].changes);
    }
    brv_choices_free(&choices);
    return code;
}

static int read_text(const char *text, size_t size, struct brv_faults *faults)
{
    static struct brv_request request;
    if (strstr(text, "choices")) return read_choices(text, size, faults);
    const int code = brv_request_parse(&request, NAME, text, size, NULL, 0, faults);
    if (!code) check_request(&request);
    return code;
}

void fuzz_scenario(const uint8_t *data, size_t size)
{
    char *text = fuzz_text(data, size);
    struct brv_faults faults = {.n = 0};
    const int code = read_text(text, size, &faults);
    fuzz_faults_check(&faults, code, NAME, text, size);
    if (fuzz_mix(data, size) % 8 == 0) {
        struct brv_faults again = {.n = 0};
        fuzz_require(read_text(text, size, &again) == code, "the same exit code as before, %d", code);
        fuzz_faults_same(&faults, &again);
        brv_faults_free(&again);
    }
    brv_faults_free(&faults);
    free(text);
}
