/* Formulae. Values computed by hand or by the C library's functions; operators as in common algebra. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include "base/random.h"
#include "quantity/formula.h"

static const struct binding some[] = {{"H", 2.0}, {"T", 9.0}, {"rho", 1025.0}, {"g_n", 9.81}, {"x1", -3.0}, {"e", 5.0}, {"H", 99.0}, {"not a name", 1.0}};
enum { SOME = sizeof some / sizeof *some };

Test(quantity, formulae_have_values)
{
    static const struct { const char *formula; double value; } cases[] = {
        {"1+2*3", 7}, {"(1+2)*3", 9}, {"-2^2", -4}, {"2^3^2", 512}, {"2^-1", 0.5}, {"6/3/2", 1}, {"2--3", 5}, {"1e3", 1000}, {"1.5E-2", 0.015}, {".5", 0.5}, {"2.", 2},
        {"H", 2}, {"H*T", 18}, {" H * T ", 18}, {"rho*g_n*H^2*T/(64*3)", 1025 * 9.81 * 4 * 9 / (64 * 3)}, {"x1^2", 9}, {"-x1", 3}, {"e", 5}, {"2*e", 10},
        {"sqrt(T)", 3}, {"abs(x1)", 3}, {"min(H, T, x1)", -3}, {"max(H, T)", 9}, {"max(1)", 1}, {"exp(0)", 1}, {"ln(exp(2))", 2}, {"log10(1000)", 3}, {"pi", 3.14159265358979323846},
        {"sin(pi/2)", 1}, {"cos(0)", 1}, {"atan(1)*4", 3.14159265358979323846}, {"asin(1)*2", 3.14159265358979323846}, {"acos(1)", 0}, {"tan(0)", 0}, 
        {"1/0", INFINITY}, {"-1/0", -INFINITY}, {"1e200*1e200", INFINITY}, {"H\n+\tT", 11},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct formula_result result = formula_value(cases[i].formula, some, SOME);
        cr_assert(result.understood, "%s: %s", cases[i].formula, result.fault);
        bool equal = result.value == cases[i].value || fabs(result.value - cases[i].value) <= 1e-14 * fabs(cases[i].value);
        cr_expect(equal, "%s: %.17g, not %.17g", cases[i].formula, result.value, cases[i].value);
    }
    cr_expect(isnan(formula_value("sqrt(-1)", NULL, 0).value));
    cr_expect(formula_value("sqrt(-1)", NULL, 0).understood);
}

Test(quantity, faulty_formulae_are_refused_with_their_place)
{
    static const struct { const char *formula; size_t at; const char *fault; } cases[] = {
        {"", 0, "empty"}, {"  ", 0, "empty"}, {"2*rho*mu", 6, "unknown name 'mu'"}, {"2*", 2, "ends"}, {"(1+2", 4, "not closed"}, {"1+2)", 3, "without '('"}, {"H T", 2, "write *"},
        {"2 H", 2, "write *"}, {"2H", 0, "'2H'"}, {"H(2)", 0, "'H' is no function"}, {"sin", 0, "without brackets"}, {"sin 2", 0, "without brackets"}, {"sin(1,2)", 7, "too many"},
        {"min()", 5, "too few"}, {"*2", 0, "operator"}, {"1,2", 1, "decimal point"}, {"(1,2)", 2, "decimal point"}, {"H=3", 1, "'='"}, {"H==3", 1, "'='"}, {"H=T=3", 1, "'='"}, {"\"a\"", 0, "'\"'"},
        {"H>2 ? 1 : 0", 1, "'>'"}, {"H&&T", 1, "'&'"}, {"H;T", 1, "';'"}, {"H # T", 2, "'#'"}, {"2×H", 1, "write *"}, {"H²", 1, "write ^2"}, {"3−1", 1, "write -"}, {"1..2", 0, "'1..'"}, {"0x10", 0, "'0x'"},
        {"sqrt (4)", 0, "right behind"}, {"1e999", 0, "too large"}, {"- -1", 3, "operator"}, {"1e", 0, "'1e'"}, {"_pi", 0, "'_'"}, {"H^", 2, "ends"}, {"()", 1, "bracket"}, {"(2)(3)", 3, "bracket"}, {"rint(2.5)", 0, "'rint' is no function"}, {"_e", 0, "'_'"}, {"log(10)", 0, "'log' is no function"},
        {"sum(1,2)", 0, "'sum' is no function"}, {"é", 0, "'é'"}, {"1 + * 2", 4, "operator"}, {"min(1,)", 6, "bracket"}, {".", 0, "point"}, {"\x01", 0, "meaning"}, {"\xff", 0, "meaning"}, {"%s%n", 0, "'%'"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct formula_result result = formula_value(cases[i].formula, some, SOME);
        cr_expect_not(result.understood, "%s", cases[i].formula);
        cr_expect_eq(result.fault_at, cases[i].at, "%s: at %zu", cases[i].formula, result.fault_at);
        cr_expect_not_null(strstr(result.fault, cases[i].fault), "%s: '%s'", cases[i].formula, result.fault);
    }
}

Test(quantity, formulae_have_limits)
{
    char text[FORMULA_LONGEST + 2];
    for (size_t i = 0; i < sizeof text; i++)
        text[i] = i % 2 == 0 ? '1' : '+';
    text[FORMULA_LONGEST + 1] = '\0';
    cr_expect_not(formula_value(text, NULL, 0).understood, "a byte too long");
    text[FORMULA_LONGEST - 1] = '\0';
    cr_expect_eq(formula_value(text, NULL, 0).value, FORMULA_LONGEST / 2);
    memset(text, '(', 33);
    text[33] = '\0';
    cr_expect_not_null(strstr(formula_value(text, NULL, 0).fault, "nested"));
    memset(text, 'a', 61);
    text[61] = '\0';
    cr_expect_not_null(strstr(formula_value(text, NULL, 0).fault, "shorten"));
    size_t used = 0;
    for (int i = 0; i < 65; i++)
        used += (size_t)snprintf(text + used, sizeof text - used, "%sn%d", i > 0 ? "+" : "", i);
    cr_expect_not_null(strstr(formula_value(text, NULL, 0).fault, "names"));
}

/* A faulty formula leaves nothing behind that changes the next one. */
Test(quantity, formulae_do_not_disturb_each_other)
{
    struct binding a = {"a", 2}, b = {"b", 3};
    for (int round = 0; round < 3; round++) {
        cr_expect_eq(formula_value("a^2", &a, 1).value, 4);
        cr_expect_not(formula_value("a^2", &b, 1).understood);
        cr_expect_not(formula_value("a^2+", &a, 1).understood);
        cr_expect_not(formula_value("b=5", &b, 1).understood);
        cr_expect_eq(formula_value("b", &b, 1).value, 3);
        a.value = 2;
    }
    for (int i = 0; i < 200; i++) {
        a.value = i;
        cr_expect_eq(formula_value("3*a+1", &a, 1).value, 3 * i + 1);
    }
}

static void collect(const char *name, void *context)
{
    char *out = context;
    strcat(out, name);
    strcat(out, " ");
}

Test(quantity, names_in_a_formula)
{
    char names[128] = "";
    struct formula_result result;
    cr_assert(formula_names("rho*g*H^2*T/(64*pi) + max(H, sqrt(T)) - rho", collect, names, &result));
    cr_expect_str_eq(names, "rho g H T ");
    cr_expect(result.understood);
    names[0] = '\0';
    cr_expect(formula_names("1+2", collect, names, &result));
    cr_expect_str_eq(names, "");
    cr_expect_not(formula_names("rho*", collect, names, &result));
    cr_expect_str_eq(names, "");
    cr_expect_eq(result.fault_at, 4);
}

Test(quantity, formula_names_are_ascii_words)
{
    static const char *const good[] = {"a", "H", "rho", "v_0", "x1", "e", "E", "sinx"};
    static const char *const bad[] = {"", "1a", "_a", "a b", "a-b", "ρ", "sin", "pi", "min", "a.", "a\n", "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa"};
    for (size_t i = 0; i < sizeof good / sizeof *good; i++)
        cr_expect(formula_name_is_valid(good[i]), "%s", good[i]);
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        cr_expect_not(formula_name_is_valid(bad[i]), "%s", bad[i]);
}

/* Any text at all is answered, with a place inside it. */
Test(quantity, any_formula_is_answered)
{
    static const char *const parts[] = {"a", "(", ")", "+", "-", "*", "/", "^", "1", ".", "e", "sin(", "max(", ",", " ", "=", "2.5", "pi", "\xff", "\"", "?", ":", "_", "<"};
    struct random_source source = {5};
    struct binding binding = {"a", 2};
    for (int round = 0; round < 5000; round++) {
        char text[128] = "";
        for (uint64_t n = random_below(&source, 12) + 1; n > 0; n--)
            strcat(text, parts[random_below(&source, sizeof parts / sizeof *parts)]);
        struct formula_result result = formula_value(text, &binding, 1);
        if (!result.understood) {
            cr_assert(result.fault[0] != '\0', "seed 5: '%s'", text);
            cr_assert(result.fault_at <= strlen(text), "seed 5: '%s'", text);
        }
    }
}
