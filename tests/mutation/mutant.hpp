// Compiled into every mutated file: the environment variable HEADROOM_MUTANT says which mutant is
// active.
#pragma once
#include <cstdio>
#include <cstdlib>
namespace headroom_mutation {
inline int number(const char *name) {
    const char *text = std::getenv(name);
    return text ? std::atoi(text) : 0;
}
inline const int active = number("HEADROOM_MUTANT");
inline unsigned char seen[100000];
struct Reached {
    const char *file = std::getenv("HEADROOM_MUTANT_TRACE");
    ~Reached() {
        std::FILE *out = file ? std::fopen(file, "a") : nullptr;
        if (!out)
            return;
        for (std::size_t i = 0; i < sizeof seen; ++i)
            if (seen[i])
                std::fprintf(out, "%zu\n", i);
        std::fclose(out);
        file = nullptr;
    }
};
inline Reached reached;
} // namespace headroom_mutation
inline bool headroom_mutant(int i) {
    headroom_mutation::seen[i] = 1;
    return headroom_mutation::active == i;
}
