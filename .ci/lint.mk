# clang-tidy over the library and the program, which brings their headers with it. A source that is
# clean leaves a stamp, which grows stale with it, a header it includes, or the checks.
sources := $(shell git ls-files "src/*.cpp")
eigen := $(shell pkg-config --cflags eigen3)
stamps := $(sources:%.cpp=build/lint/%.ok)

all: $(stamps)

# The commands are GCC's, one of whose warnings Clang does not know.
build/lint/%.ok: %.cpp .clang-tidy
	@mkdir -p $(@D)
	@clang-tidy --quiet -p build/dev --extra-arg=-Wno-unknown-warning-option $< 2>$(@:.ok=.said) || \
	  { cat $(@:.ok=.said); exit 1; }
	@clang++ -std=c++20 -Iinclude -Isrc $(eigen) -MM -MP -MT $@ -MF $(@:.ok=.d) $<
	@touch $@

-include $(stamps:.ok=.d)
.PHONY: all
