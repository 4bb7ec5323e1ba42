/* `--set KEY=VALUE` on a scenario that is read once; for some inputs the whole way through the file, with the same end. */
#include "fuzz/fuzz.h"

#include "scenario/document.h"
#include "scenario/request.h"

#include <stdlib.h>
#include <string.h>

#define NAME "BASE"

static struct brv_document base;
static char *base_text;
static size_t base_size;

static void read_base(void)
{
    struct brv_faults faults = {.n = 0};
    fuzz_require(!brv_document_load(&base_text, &base_size, FUZZ_BASE, &faults), "%s", FUZZ_BASE);
    fuzz_require(!brv_document_parse(&base, NAME, base_text, base_size, &faults), "%s is sound", FUZZ_BASE);
}

/* The short way: a copy of the tree. Its names begin with the base's own, by which the places of the base are known. */
static void read_copy(struct brv_request *request, const char *set, struct brv_faults *faults)
{
    struct brv_document document = {.whole = true};
    fuzz_require(brv_document_name(&document, NAME) && brv_node_copy(&document.root, &base.root), "a copy");
    free(document.name[0]);
    document.name[0] = base.name[0];
    brv_request_change(&document, &set, 1, faults);
    brv_request_take(request, &document, faults);
    brv_faults_sort(faults, document.name[0]);
    document.name[0] = NULL;
    brv_document_free(&document);
}

static void read_whole(const struct brv_request *request, const char *set, const struct brv_faults *faults)
{
    static struct brv_request again;
    struct brv_faults found = {.n = 0};
    const int code = brv_request_parse(&again, NAME, base_text, base_size, &set, 1, &found);
    fuzz_faults_check(&found, code, NAME, base_text, base_size);
    fuzz_faults_same(faults, &found);
    fuzz_require(code || !memcmp(&request->scenario, &again.scenario, sizeof again.scenario), "the same scenario");
    brv_faults_free(&found);
}

/* Places of what stands in the argument itself. */
static void check_places(const char *set, const struct brv_faults *faults)
{
    for (size_t i = 0; i < faults->n; i++) {
        const struct brv_fault *fault = &faults->fault[i];
        fuzz_require(fuzz_is_plain(fault->file), "a name without controls: %s", fault->file);
        if (strncmp(fault->file, "--set ", 6) != 0) continue;
        fuzz_require(fault->line >= 1 && fault->column >= 1 && fault->column <= (int)strlen(set) + 1,
                     "a place inside of %s: %d:%d: %s", set, fault->line, fault->column, fault->text);
    }
}

void fuzz_set(const uint8_t *data, size_t size)
{
    static struct brv_request request;
    if (!base_text) read_base();
    char *set = fuzz_text(data, size);
    struct brv_faults faults = {.n = 0};
    read_copy(&request, set, &faults);
    fuzz_faults_check(&faults, faults.n > 0, NAME, base_text, base_size);
    check_places(set, &faults);
    if (fuzz_mix(data, size) % 64 == 0) read_whole(&request, set, &faults);
    brv_faults_free(&faults);
    free(set);
}
