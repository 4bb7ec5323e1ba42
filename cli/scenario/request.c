#include "scenario/request.h"

#include "command/command.h"
#include "scenario/document.h"
#include "scenario/path.h"
#include "scenario/spread_section.h"
#include "scenario/verdict.h"
#include "scenario/walk.h"

#include <stdlib.h>
#include <string.h>

void brv_request_take(struct brv_request *request, const struct brv_document *document, struct brv_faults *faults)
{
    memset(request, 0, sizeof *request);
    const struct brv_node *root = &document->root;
    if (root->kind != BRV_NODE_MAP) {
        if (!root->refused)
            brv_faults_add(faults, root->at.file, root->at.line, root->at.column,
                           "this is not a scenario: it begins with a section, such as `light:`");
        return;
    }
    struct brv_walk *walk = malloc(sizeof *walk); /* 65 kB would be much of a small stack */
    if (!walk) {
        faults->out_of_memory = 1;
        return;
    }
    brv_walk_document(walk, request, document, faults);
    brv_scenario_fill(&request->scenario);
    brv_verdict_list(walk);
    brv_spread_section(walk, faults->n == 0);
    free(walk);
}

void brv_request_change(struct brv_document *document, const char *const set[], size_t n_set, struct brv_faults *faults)
{
    static const char *const dotted[] = {"lesion", "skin"}; /* where `basal.melanosomes: 14 %` may stand */
    for (size_t i = 0; i < sizeof dotted / sizeof *dotted && document->root.kind == BRV_NODE_MAP; i++) {
        struct brv_node *map = brv_node_child(&document->root, dotted[i]);
        if (map && map->kind == BRV_NODE_MAP) brv_path_nest(map, faults);
    }
    for (size_t i = 0; i < n_set && document->root.kind == BRV_NODE_MAP; i++) brv_path_set(document, set[i], faults);
}

/* From the document, as far as it was read, to the request; returns the exit code. */
static int take(struct brv_request *request, struct brv_document *document, int code, const char *const set[],
                size_t n_set, struct brv_faults *faults)
{
    memset(request, 0, sizeof *request);
    if (document->whole) {
        brv_request_change(document, set, n_set, faults);
        if (!faults->out_of_memory) brv_request_take(request, document, faults);
        brv_faults_sort(faults, document->name[0]);
    }
    if (faults->out_of_memory)
        code = BRV_EXIT_MEMORY;
    else if (!code && faults->n)
        code = BRV_EXIT_REFUSED;
    brv_document_free(document);
    return code;
}

int brv_request_read(struct brv_request *request, const char *path, const char *const set[], size_t n_set,
                     struct brv_faults *faults)
{
    struct brv_document document;
    const int code = brv_document_read(&document, path, faults);
    return take(request, &document, code, set, n_set, faults);
}

int brv_request_parse(struct brv_request *request, const char *name, const char *text, size_t size,
                      const char *const set[], size_t n_set, struct brv_faults *faults)
{
    struct brv_document document;
    const int code = brv_document_parse(&document, name, text, size, faults);
    return take(request, &document, code, set, n_set, faults);
}
