#include "scenario/film_section.h"

#include "scenario/film.h"

#include <stdio.h>
#include <string.h>

static void refuse(struct brv_walk *walk, const struct brv_node *node)
{
    char found[BRV_WALK_FOUND_SIZE];
    walk->section[BRV_SCOPE_FILM].failed = true;
    brv_walk_fault(walk, brv_node_place(node),
                   "film%s; thickness and absorption are wanted below it, as in {thickness: 5 um, absorption: 2000 "
                   "/cm}, or the word none",
                   brv_walk_found(found, node));
}

/* What was read about the layers stays beside them. */
static void move_written(struct brv_walk *walk, size_t site)
{
    struct brv_written(*written)[BRV_WALK_KEYS] = walk->written[site];
    for (size_t row = 0; row < brv_n_keys; row++) {
        if (brv_keys[row].scope != BRV_SCOPE_LAYER) continue;
        for (size_t i = BRV_MOST_LAYERS - 1; i > 0; i--) written[i][row] = written[i - 1][row];
        written[0][row] = (struct brv_written){.node = NULL};
    }
    for (size_t i = BRV_MOST_LAYERS - 1; i > 0; i--) walk->layer[site][i] = walk->layer[site][i - 1];
    walk->layer[site][0] = walk->section[BRV_SCOPE_FILM].node;
}

static void lay(struct brv_walk *walk)
{
    struct brv_request *request = walk->request;
    const size_t n = request->scenario.skin[BRV_NEIGHBOUR].n_layer;
    if (n == 0) return;
    if (n == BRV_MOST_LAYERS) {
        walk->section[BRV_SCOPE_FILM].failed = true;
        request->scenario.film.given = 0;
        brv_walk_fault(walk, walk->section[BRV_SCOPE_FILM].node->key_at, "film: at most %d layers fit below a film",
                       (int)BRV_MOST_LAYERS - 1);
        return;
    }
    brv_film_cover(&request->scenario);
    for (size_t site = 0; site < BRV_N_SITE; site++) move_written(walk, site);
    memmove(&request->layer_name[1], &request->layer_name[0], (BRV_MOST_LAYERS - 1) * sizeof *request->layer_name);
    snprintf(request->layer_name[0], BRV_LAYER_NAME_SIZE, "film");
}

void brv_film_section(struct brv_walk *walk)
{
    const struct brv_section *section = &walk->section[BRV_SCOPE_FILM];
    const struct brv_node *node = section->node;
    if (!node || section->failed) return;
    if (node->kind == BRV_NODE_TEXT && !strcmp(node->text, "none")) return;
    if (node->kind != BRV_NODE_MAP || node->n == 0) {
        refuse(walk, node);
        return;
    }
    brv_walk_keys(walk, (struct brv_target){BRV_SCOPE_FILM, BRV_NEIGHBOUR, 0, false}, node);
    if (walk->request->scenario.film.given) lay(walk);
}
