#include "light/stack.h"

#include "base/array.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <stdlib.h>
#include <string.h>

/* One face: what lies below it, and how light gets from it through the next sheet, echoes included. */
struct face {
    gsl_matrix_view seen;    /* reflection of all that lies below                       */
    gsl_vector_view light;   /* light that all that lies below sends up by itself       */
    gsl_matrix_view passage; /* from this face to the next                              */
    gsl_vector_view arrives; /* light that the rest of the stack sends to the next face */
};

struct adding {
    size_t n_sheet, n;
    double *numbers;
    struct face *face; /* [n_sheet + 1] */
    gsl_matrix_view echo, room;
    gsl_vector_view scale;
};

static size_t numbers_per_face(size_t n)
{
    return 2 * n * n + 2 * n;
}

static void lay_out(struct adding *adding)
{
    const size_t n = adding->n;
    double *next = adding->numbers;
    for (size_t j = 0; j <= adding->n_sheet; j++, next += numbers_per_face(n)) {
        adding->face[j] = (struct face){
            .seen = gsl_matrix_view_array(next, n, n),
            .passage = gsl_matrix_view_array(next + n * n, n, n),
            .light = gsl_vector_view_array(next + 2 * n * n, n),
            .arrives = gsl_vector_view_array(next + 2 * n * n + n, n),
        };
    }
    adding->echo = gsl_matrix_view_array(next, n, n);
    adding->room = gsl_matrix_view_array(next + n * n, n, n);
    adding->scale = gsl_vector_view_array(next + 2 * n * n, n);
}

static void empty_adding(struct adding *adding)
{
    free(adding->numbers);
    free(adding->face);
    *adding = (struct adding){0};
}

static brv_status allocate_adding(struct adding *adding, size_t n_sheet, size_t n, struct brv_error *error)
{
    *adding = (struct adding){.n_sheet = n_sheet, .n = n};
    adding->numbers = brv_array_new((n_sheet + 2) * numbers_per_face(n));
    adding->face = calloc(n_sheet + 1, sizeof *adding->face);
    if (!adding->numbers || !adding->face) {
        empty_adding(adding);
        return brv_error_raise(error, BRV_MEMORY, "brv_stack_solve");
    }
    lay_out(adding);
    return BRV_OK;
}

/* passage and arrives of a face: (1 - R seen)^-1 applied to T and to the light kindled in the sheet. */
static int pass_through(struct adding *adding, struct face *above, const struct face *below,
                        const struct brv_sheet *sheet)
{
    const size_t n = sheet->n;
    gsl_matrix_const_view reflection = gsl_matrix_const_view_array(sheet->reflection, n, n);
    gsl_matrix_const_view transmission = gsl_matrix_const_view_array(sheet->transmission, n, n);
    gsl_vector_const_view falling = gsl_vector_const_view_array(sheet->falling, n);
    gsl_matrix *echo = &adding->echo.matrix;
    gsl_vector *scale = &adding->scale.vector;

    gsl_matrix_set_identity(echo);
    gsl_blas_dgemm(CblasNoTrans, CblasNoTrans, -1.0, &reflection.matrix, &below->seen.matrix, 1.0, echo);
    int fault = gsl_linalg_QR_decomp(echo, scale);

    gsl_matrix_memcpy(&above->passage.matrix, &transmission.matrix);
    if (!fault) fault = gsl_linalg_QR_QTmat(echo, scale, &above->passage.matrix);
    gsl_blas_dtrsm(CblasLeft, CblasUpper, CblasNoTrans, CblasNonUnit, 1.0, echo, &above->passage.matrix);

    gsl_vector_memcpy(&above->arrives.vector, &falling.vector);
    gsl_blas_dgemv(CblasNoTrans, 1.0, &reflection.matrix, &below->light.vector, 1.0, &above->arrives.vector);
    if (!fault) fault = gsl_linalg_QR_svx(echo, scale, &above->arrives.vector);
    return fault;
}

/* seen and light of a face. */
static void look_down(struct adding *adding, struct face *above, const struct face *below,
                      const struct brv_sheet *sheet)
{
    const size_t n = sheet->n;
    gsl_matrix_const_view reflection = gsl_matrix_const_view_array(sheet->reflection, n, n);
    gsl_matrix_const_view transmission = gsl_matrix_const_view_array(sheet->transmission, n, n);
    gsl_vector_const_view rising = gsl_vector_const_view_array(sheet->rising, n);
    gsl_matrix *room = &adding->room.matrix;
    gsl_vector *back = &adding->scale.vector;

    gsl_matrix_memcpy(&above->seen.matrix, &reflection.matrix);
    gsl_blas_dgemm(CblasNoTrans, CblasNoTrans, 1.0, &below->seen.matrix, &above->passage.matrix, 0.0, room);
    gsl_blas_dgemm(CblasNoTrans, CblasNoTrans, 1.0, &transmission.matrix, room, 1.0, &above->seen.matrix);

    gsl_vector_memcpy(&above->light.vector, &rising.vector);
    gsl_vector_memcpy(back, &below->light.vector);
    gsl_blas_dgemv(CblasNoTrans, 1.0, &below->seen.matrix, &above->arrives.vector, 1.0, back);
    gsl_blas_dgemv(CblasNoTrans, 1.0, &transmission.matrix, back, 1.0, &above->light.vector);
}

static int add_upwards(struct adding *adding, const struct brv_sheet *sheet)
{
    int fault = 0;
    for (size_t j = adding->n_sheet; j-- > 0 && !fault;) {
        fault = pass_through(adding, &adding->face[j], &adding->face[j + 1], &sheet[j]);
        if (!fault) look_down(adding, &adding->face[j], &adding->face[j + 1], &sheet[j]);
    }
    return fault;
}

static void follow_downwards(struct brv_stack *stack, const struct adding *adding)
{
    const size_t n = stack->n;
    for (size_t j = 0; j <= stack->n_sheet; j++) {
        const struct face *face = &adding->face[j];
        gsl_vector_view down = gsl_vector_view_array(stack->down + j * n, n);
        gsl_vector_view up = gsl_vector_view_array(stack->up + j * n, n);
        gsl_vector_memcpy(&up.vector, &face->light.vector);
        gsl_blas_dgemv(CblasNoTrans, 1.0, &face->seen.matrix, &down.vector, 1.0, &up.vector);
        if (j == stack->n_sheet) break;
        gsl_vector_view next = gsl_vector_view_array(stack->down + (j + 1) * n, n);
        gsl_vector_memcpy(&next.vector, &face->arrives.vector);
        gsl_blas_dgemv(CblasNoTrans, 1.0, &face->passage.matrix, &down.vector, 1.0, &next.vector);
    }
}

static brv_status solve(struct brv_stack *stack, const struct brv_sheet *sheet, struct brv_error *error)
{
    struct adding adding;
    brv_status status = allocate_adding(&adding, stack->n_sheet, stack->n, error);
    if (status) return status;
    if (add_upwards(&adding, sheet))
        status = brv_error_raise(error, BRV_NUMERICS, "brv_stack_solve");
    else
        follow_downwards(stack, &adding);
    empty_adding(&adding);
    return status;
}

brv_status brv_stack_solve(struct brv_stack *stack, const struct brv_sheet *sheet, size_t n_sheet,
                           const double *falling, struct brv_error *error)
{
    const size_t n = sheet[0].n;
    *stack = (struct brv_stack){.n_sheet = n_sheet, .n = n};
    stack->down = brv_array_new((n_sheet + 1) * n);
    stack->up = brv_array_new((n_sheet + 1) * n);
    brv_status status = stack->down && stack->up ? BRV_OK : brv_error_raise(error, BRV_MEMORY, "brv_stack_solve");
    if (!status) {
        memcpy(stack->down, falling, n * sizeof *falling);
        status = solve(stack, sheet, error);
    }
    if (status) brv_stack_free(stack);
    return status;
}

void brv_stack_free(struct brv_stack *stack)
{
    free(stack->down);
    free(stack->up);
    *stack = (struct brv_stack){0};
}
