# One rule a thing. `make` builds build/ownmark; see README.md for the two commands a newcomer needs.
CC ?= gcc
PREFIX ?= /usr/local
BUILD ?= build

# Rooms from the ground up: a room may use itself and the rooms before it, and its tests are linked
# against nothing else.
ROOMS := base quantity bank marking answer learner record report practice authoring paper terminal commands

WARNINGS := -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wformat=2 -Wvla -Wstrict-prototypes \
            -Wmissing-prototypes -Werror
PACKAGES := libxml-2.0 sqlite3 readline muparser
CFLAGS ?= -O2 -g
HARDENING ?= -U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=3 -fstack-protector-strong -fstack-clash-protection -fPIE
LINK_HARDENING ?= -pie -Wl,-z,relro,-z,now,-z,noexecstack,--as-needed
INCLUDES := -Iengine -Itests $(subst -I,-isystem ,$(shell pkg-config --cflags-only-I $(PACKAGES)))
ALL_CFLAGS = -std=c11 -D_GNU_SOURCE $(INCLUDES) $(CFLAGS) $(WARNINGS) $(HARDENING) $(SANITIZERS) -MMD -MP
LIBS := $(shell pkg-config --libs $(PACKAGES)) -lunistring -lstemmer -lglpk -lm

sources = $(wildcard engine/$(1)/*.c)
objects = $(patsubst %.c,$(BUILD)/%.o,$(call sources,$(1)))
# The rooms a room may see, itself first, so that the linker resolves downwards only.
below = $(shell echo $(ROOMS) | tr ' ' '\n' | sed '/^$(1)$$/q' | tac)
archives = $(patsubst %,$(BUILD)/lib%.a,$(call below,$(1)))
TESTED := $(foreach room,$(ROOMS),$(if $(wildcard tests/$(room)/*.c),$(room)))

.PHONY: all test sanitize bench demo install clean
all: $(BUILD)/ownmark

$(BUILD)/ownmark: $(BUILD)/engine/main.o $(call archives,commands)
	@echo "  link $@"
	@$(CC) $(SANITIZERS) $(LINK_HARDENING) -o $@ $^ $(LIBS)

define room_rules
$(BUILD)/lib$(1).a: $(call objects,$(1))
	@rm -f $$@
	@ar rcs $$@ $$^
$(BUILD)/test-$(1): $(patsubst %.c,$(BUILD)/%.o,$(wildcard tests/$(1)/*.c) $(wildcard tests/support/*.c)) $(call archives,$(1))
	@echo "  link $$@"
	@$$(CC) $$(SANITIZERS) $$(LINK_HARDENING) -o $$@ $$^ $$(LIBS) -lcriterion -lical
.PHONY: test-$(1)
test-$(1): $(BUILD)/test-$(1)
	$(BUILD)/test-$(1)
endef
$(foreach room,$(ROOMS),$(eval $(call room_rules,$(room))))

$(BUILD)/%.o: %.c
	@mkdir -p $(@D)
	@echo "  cc $<"
	@$(CC) $(ALL_CFLAGS) -c -o $@ $<

# Banks that have to keep to their courses' shares, and together to use all that the format offers.
BALANCED_BANKS := banks/coastal-science.xml banks/settlement-study.xml banks/small-business.xml
TEST_PROGRAMS := $(TESTED:%=$(BUILD)/test-%)
test test-commands: export OWNMARK := $(BUILD)/ownmark
test test-terminal: export PTY_SESSION := $(BUILD)/pty-session
test-commands: all
test: all $(TEST_PROGRAMS) $(BUILD)/pty-session $(BUILD)/tools/check-features $(BUILD)/tools/simulate
	@sh tools/check-rooms
	@sh tools/run-tests $(TEST_PROGRAMS)
	@sh tools/run-transcripts $(BUILD)/ownmark
	@$(BUILD)/ownmark bank balance $(BALANCED_BANKS) >$(BUILD)/balance.txt || { cat $(BUILD)/balance.txt; exit 1; }
	@for bank in $(BALANCED_BANKS); do $(BUILD)/ownmark bank tidy --check $$bank >$(BUILD)/tidy.txt || { cat $(BUILD)/tidy.txt; exit 1; }; done
	@$(BUILD)/tools/check-features $(BALANCED_BANKS) >$(BUILD)/features.txt || { grep FEW $(BUILD)/features.txt; exit 1; }
	@$(BUILD)/tools/simulate --check

# The same suite under the address, undefined-behaviour and leak sanitizers. Compiled less hard: the runtime of the
# sanitizers and the hardening flags get into each other's way.
sanitize: export ASAN_OPTIONS := abort_on_error=1:detect_leaks=1:handle_segv=0
sanitize: export LSAN_OPTIONS := suppressions=$(CURDIR)/tests/lsan.supp:print_suppressions=0
sanitize: export UBSAN_OPTIONS := print_stacktrace=1
sanitize:
	@$(MAKE) --no-print-directory BUILD=$(BUILD)/sanitized CFLAGS='-O1 -g -fno-omit-frame-pointer' HARDENING= LINK_HARDENING= \
	    SANITIZERS='-fsanitize=address,undefined -fno-sanitize-recover=all' test

demo: all
	@sh tools/demo $(BUILD)/ownmark

bench: all $(addprefix $(BUILD)/tools/,compare make-bank make-record bench-record bench-evidence export-paper simulate)
	@sh tools/bench $(BUILD)

SHARE = $(DESTDIR)$(PREFIX)/share
install: all
	install -d $(DESTDIR)$(PREFIX)/bin $(SHARE)/ownmark/banks/figures $(SHARE)/man/man1 $(SHARE)/doc/ownmark
	install -m 755 $(BUILD)/ownmark $(DESTDIR)$(PREFIX)/bin/ownmark
	install -m 644 banks/*.xml banks/*.xsd $(SHARE)/ownmark/banks
	install -m 644 banks/figures/* $(SHARE)/ownmark/banks/figures
	install -m 644 docs/ownmark.1 $(SHARE)/man/man1
	install -m 644 README.md LICENSE docs/*.md $(SHARE)/doc/ownmark

clean:
	rm -rf $(BUILD)

-include $(shell find $(BUILD) -name '*.d' 2>/dev/null)

# The terminal asks terminfo whether TERM is known at all.
LIBS += -ltinfo

# The program carries the schema of a bank inside, so that it works wherever it is installed.
$(BUILD)/schema-text.inc: banks/ownmark-bank.xsd
	@mkdir -p $(@D)
	od -An -v -tx1 $< | sed 's/\([0-9a-f][0-9a-f]\)/0x\1,/g' > $@
$(BUILD)/engine/bank/schema.o: $(BUILD)/schema-text.inc
$(BUILD)/engine/bank/schema.o: ALL_CFLAGS += -I$(BUILD)

# A program that only asks, for the tests that talk to it through a pseudo-terminal.
$(BUILD)/pty-session: $(BUILD)/tests/programs/pty-session.o $(call archives,terminal)
	$(CC) $(SANITIZERS) $(LINK_HARDENING) -o $@ $^ $(LIBS)
test-terminal: $(BUILD)/pty-session

# Writes records of any length, and measures what an event costs.
$(BUILD)/tools/make-record $(BUILD)/tools/bench-record: %: %.o $(call archives,record)
	@echo "  link $@"
	@$(CC) $(SANITIZERS) $(LINK_HARDENING) -o $@ $^ $(LIBS)

# Looks at the shipped banks.
$(BUILD)/tools/check-features $(BUILD)/tools/weak-questions: %: %.o $(call archives,report)
	@echo "  link $@"
	@$(CC) $(SANITIZERS) $(LINK_HARDENING) -o $@ $^ $(LIBS)

# Exports the program behind a paper.
$(BUILD)/tools/export-paper: %: %.o $(call archives,paper)
	@echo "  link $@"
	@$(CC) $(SANITIZERS) $(LINK_HARDENING) -o $@ $^ $(LIBS)

# Measures how well the evidence for points agrees with a person.
$(BUILD)/tools/bench-evidence: %: %.o $(BUILD)/tests/answer/labelled.o $(call archives,answer)
	@echo "  link $@"
	@$(CC) $(SANITIZERS) $(LINK_HARDENING) -o $@ $^ $(LIBS)

# Simulated students, for the choice of questions, the timetable and the forecast.
$(BUILD)/tools/simulate: $(patsubst %.c,$(BUILD)/%.o,$(wildcard tools/simulate*.c)) $(call archives,learner)
	@echo "  link $@"
	@$(CC) $(SANITIZERS) $(LINK_HARDENING) -o $@ $^ $(LIBS)

# Generators and other tools that stand alone.
$(BUILD)/tools/%: tools/%.c
	@mkdir -p $(@D)
	$(CC) $(ALL_CFLAGS) $(LINK_HARDENING) -o $@ $<

# The tests of the bank room read generated banks.
test test-bank: export MAKE_BANK := $(BUILD)/tools/make-bank
test test-bank: $(BUILD)/tools/make-bank

# So do those of papers.
test-paper test-commands: export MAKE_BANK := $(BUILD)/tools/make-bank
test-paper test-commands: $(BUILD)/tools/make-bank
