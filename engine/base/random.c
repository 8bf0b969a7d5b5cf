#include "base/random.h"

#include <assert.h>
#include <sys/random.h>
#include <time.h>
#include <unistd.h>

uint64_t random_next(struct random_source *source)
{
    source->state += UINT64_C(0x9e3779b97f4a7c15);
    uint64_t mixed = source->state;
    mixed = (mixed ^ (mixed >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    mixed = (mixed ^ (mixed >> 27)) * UINT64_C(0x94d049bb133111eb);
    return mixed ^ (mixed >> 31);
}

uint64_t random_below(struct random_source *source, uint64_t bound)
{
    assert(bound >= 1);
    /* 2^64 mod bound values at the bottom would make the small results too frequent. */
    uint64_t surplus = (UINT64_C(0) - bound) % bound;
    uint64_t drawn;
    do
        drawn = random_next(source);
    while (drawn < surplus);
    return drawn % bound;
}

double random_unit(struct random_source *source)
{
    return (double)(random_next(source) >> 11) * 0x1p-53;
}

uint64_t random_fresh_seed(void)
{
    uint64_t seed;
    if (getrandom(&seed, sizeof seed, 0) == (ssize_t)sizeof seed)
        return seed;
    /* Interrupted or forbidden: variety is all that is asked for, and the clock gives that. */
    struct timespec now;
    clock_gettime(CLOCK_REALTIME, &now);
    return (uint64_t)now.tv_sec * UINT64_C(1000000000) + (uint64_t)now.tv_nsec + (uint64_t)getpid();
}
