# One rule a thing. `make` builds build/ownmark; see README.md for the two commands a newcomer needs.
CC ?= gcc
PREFIX ?= /usr/local
BUILD ?= build

# Rooms from the ground up: a room may use itself and the rooms before it, and its tests are linked
# against nothing else.
ROOMS := base quantity bank marking answer learner record report practice terminal commands

WARNINGS := -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wformat=2 -Wvla -Wstrict-prototypes \
            -Wmissing-prototypes -Werror
PACKAGES := libxml-2.0 sqlite3 readline muparser
CFLAGS ?= -O2 -g
HARDENING ?= -U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=3 -fstack-protector-strong -fstack-clash-protection -fPIE
LINK_HARDENING ?= -pie -Wl,-z,relro,-z,now,-z,noexecstack,--as-needed
INCLUDES := -Iengine $(subst -I,-isystem ,$(shell pkg-config --cflags-only-I $(PACKAGES)))
ALL_CFLAGS = -std=c11 -D_GNU_SOURCE -DOWNMARK_BANKS='"$(PREFIX)/share/ownmark/banks"' $(INCLUDES) $(CFLAGS) $(WARNINGS) $(HARDENING) $(SANITIZERS) -MMD -MP
LIBS := $(shell pkg-config --libs $(PACKAGES)) -lunistring -lstemmer -lm

sources = $(wildcard engine/$(1)/*.c)
objects = $(patsubst %.c,$(BUILD)/%.o,$(call sources,$(1)))
# The rooms a room may see, itself first, so that the linker resolves downwards only.
below = $(shell echo $(ROOMS) | tr ' ' '\n' | sed '/^$(1)$$/q' | tac)
archives = $(patsubst %,$(BUILD)/lib%.a,$(call below,$(1)))
TESTED := $(foreach room,$(ROOMS),$(if $(wildcard tests/$(room)/*.c),$(room)))

.PHONY: all test units clean
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
	@$$(CC) $$(SANITIZERS) $$(LINK_HARDENING) -o $$@ $$^ $$(LIBS) -lcriterion
.PHONY: test-$(1)
test-$(1): $(BUILD)/test-$(1)
	$(BUILD)/test-$(1)
endef
$(foreach room,$(ROOMS),$(eval $(call room_rules,$(room))))

$(BUILD)/%.o: %.c
	@mkdir -p $(@D)
	@echo "  cc $<"
	@$(CC) $(ALL_CFLAGS) -c -o $@ $<

units: $(foreach room,$(TESTED),test-$(room))
test: units

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
