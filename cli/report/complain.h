/* Words to stderr that hold what others wrote: paths, values of the environment, what another program said. */
#ifndef BRV_CLI_REPORT_COMPLAIN_H
#define BRV_CLI_REPORT_COMPLAIN_H

/* One line, made as by printf; what would move a cursor in it is `?`, and the line end is added. */
void brv_complain(const char *format, ...) __attribute__((format(printf, 1, 2)));

#endif
