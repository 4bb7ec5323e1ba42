#include "base/table.h"

double brv_table_at(const struct brv_table *table, double x)
{
    const double last = (double)(table->n - 1);
    const double place = (x - table->first) / table->step;
    if (!(place > 0.0)) return table->value[0];
    if (place >= last) return table->value[table->n - 1];

    const size_t i = (size_t)place;
    const double share = place - (double)i;
    return table->value[i] + share * (table->value[i + 1] - table->value[i]);
}
