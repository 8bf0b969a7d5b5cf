/* Prints a valid bank of N questions on standard output, about 2.4 kB each, that uses every feature of the format but
 * figures (which need files): make-bank N [SEED]. The same numbers give the same bank.
 *
 * One question in four is a calculation with numbers that are drawn, as in a bank for an examination where about a
 * quarter of the marks are for mathematics; the first formula is the same in all of them, the others rarely. */
#include <inttypes.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

static uint64_t state;

static unsigned below(unsigned bound)
{
    state = state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (unsigned)((state >> 33) % bound);
}

static const char course[] =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<bank xmlns=\"urn:ownmark:bank:1\" id=\"generated\" language=\"en\">\n"
    "  <course name=\"Coastal Science\" paper-marks=\"60\" paper-minutes=\"72\">\n"
    "    <about>Made by a generator, for trials of size and speed.</about>\n"
    "    <objective id=\"AO1\" share=\"40\" kind=\"know\">Know and understand</objective>\n"
    "    <objective id=\"AO2\" share=\"40\" kind=\"apply\">Apply</objective>\n"
    "    <objective id=\"AO3\" share=\"20\" kind=\"analyse\">Analyse and evaluate</objective>\n"
    "    <skill id=\"maths\" share=\"20\">Mathematics</skill>\n"
    "    <skill id=\"practical\" share=\"15\">Practical work</skill>\n"
    "    <topic id=\"waves\" name=\"Waves and tides\">\n"
    "      <topic id=\"waves.energy\" name=\"Wave energy\" share=\"30\">\n"
    "        <explain ask=\"Explain where a wave gets its energy.\">\n"
    "          <key-point>Wind blowing over the sea passes energy to the surface.</key-point>\n"
    "        </explain>\n"
    "      </topic>\n"
    "      <topic id=\"waves.tides\" name=\"Tides\" share=\"20\"/>\n"
    "    </topic>\n"
    "    <topic id=\"shore\" name=\"Rocky-shore ecology\" share=\"50\"/>\n"
    "    <command-word word=\"calculate\" objective=\"AO2\">\n"
    "      <meaning>Work out a value from what is given.</meaning>\n"
    "      <needs>The working, the value and its unit.</needs>\n"
    "      <trap>The unit is left out.</trap>\n"
    "    </command-word>\n"
    "    <data-sheet>\n"
    "      <constant symbol=\"g\" value=\"9.81\" unit=\"N/kg\">gravitational field strength</constant>\n"
    "      <formula name=\"wave speed\">speed = frequency × wavelength: <em>v</em> = <em>f</em><em>λ</em></formula>\n"
    "    </data-sheet>\n"
    "  </course>\n";

static const char *const organisms[] = {"limpet", "mussel", "dog whelk", "barnacle", "periwinkle", "anemone"};
static const char *const topics[] = {"waves.energy", "waves.tides", "shore"};
static const char *const demands[] = {"low", "standard", "high"};

static void print_stem(unsigned number, bool varied)
{
    printf("    <stem>\n"
           "      <p>At station %u a buoy bobs in waves of height %s. Sea water has a density of 1030 kg\n"
           "         m<sup>−3</sup>; carbon dioxide is CO<sub>2</sub>. Read <em>every</em> line.</p>\n"
           "      <table>\n"
           "        <caption>Height of the waves on two days</caption>\n"
           "        <head><cell>Day</cell><cell>Height / m</cell></head>\n"
           "        <row><cell>Monday</cell><cell>%u.%u</cell></row>\n"
           "        <row><cell>Tuesday</cell><cell>%u.%u</cell></row>\n"
           "      </table>\n",
           number, varied ? "<value of=\"H\"/>" : "1.5 m", 1 + below(3), below(10), 1 + below(3), below(10));
    if (number % 3 == 0)
        printf("      <source title=\"Source A: the harbour log\" credit=\"Written for this bank\">\n"
               "        <p>Swell from the west all week.</p>\n"
               "        <list><item>The buoy floats freely.</item><item>The water is deep.</item></list>\n"
               "      </source>\n");
    printf("    </stem>\n"
           "    <caution>This is a paper exercise. Work on a shore follows your school's risk assessment.</caution>\n");
}

static void print_calculation(void)
{
    printf("    <part id=\"a\" objective=\"AO2\" command=\"calculate\" marks=\"3\" skills=\"maths\" lines=\"5\">\n"
           "      <ask><p>Calculate the power carried by each metre of wave.</p></ask>\n"
           "      <given symbol=\"rho\" value=\"%u\" unit=\"kg m-3\">density of sea water</given>\n"
           "      <scheme>\n"
           "        <point id=\"sub\" kind=\"method\">puts the values into the formula <key>formula</key></point>\n"
           "        <point id=\"value\" kind=\"accuracy\" needs=\"sub\">value with unit\n"
           "          <number symbol=\"P\" formula=\"rho*g^2*H^2*T/(32*pi)\" unit=\"W/m\" tolerance=\"2%%\"/>\n"
           "        </point>\n"
           "        <point kind=\"independent\" objective=\"AO1\" idea=\"power-unit\">power is energy for each second\n"
           "          <accept>joules per second</accept><ignore>strength</ignore><reject>energy on its own</reject>\n"
           "          <key>energy</key><key essential=\"yes\">second / time / rate</key>\n"
           "        </point>\n"
           "      </scheme>\n"
           "      <model><p>P = <value of=\"P\"/> for each metre.</p></model>\n"
           "      <note><p>Square the height before you multiply.</p></note>\n"
           "    </part>\n",
           1020 + below(10));
}

static void print_explanation(void)
{
    printf("    <part id=\"a\" objective=\"AO2\" command=\"explain\" marks=\"3\" skills=\"maths\" lines=\"5\">\n"
           "      <ask><p>Explain why the waves at station %u carried more power on one of the two days.</p></ask>\n"
           "      <given symbol=\"rho\" value=\"%u\" unit=\"kg m-3\">density of sea water</given>\n"
           "      <scheme>\n"
           "        <point id=\"higher\" kind=\"method\">compares the heights of the waves <key>higher / larger</key></point>\n"
           "        <point id=\"square\" kind=\"accuracy\" needs=\"higher\">power goes with the square of the height\n"
           "          <accept>four times for twice the height</accept><key essential=\"yes\">square</key>\n"
           "        </point>\n"
           "        <point kind=\"independent\" objective=\"AO1\" idea=\"power-unit\">power is energy for each second\n"
           "          <accept>joules per second</accept><ignore>strength</ignore><reject>energy on its own</reject>\n"
           "          <key>energy</key><key essential=\"yes\">second / time / rate</key>\n"
           "        </point>\n"
           "      </scheme>\n"
           "      <model><p>The waves were higher, and power goes with the square of the height.</p></model>\n"
           "      <note><p>Square the height before you compare.</p></note>\n"
           "    </part>\n",
           1 + below(90), 1020 + below(10));
}

static void print_routes(void)
{
    unsigned beach = 10 * (2 + below(30)), minutes = 1 + below(20);
    printf("    <part id=\"b\" objective=\"AO2\" command=\"calculate\" marks=\"2\" skills=\"maths\">\n"
           "      <ask><p>Calculate the energy that reaches %u m of beach in %u minutes.</p></ask>\n"
           "      <scheme unit-penalty=\"no\">\n"
           "        <routes>\n"
           "          <route name=\"by power\">\n"
           "            <point kind=\"method\">multiplies power by the length and by the time in seconds</point>\n"
           "            <point kind=\"accuracy\">value <number symbol=\"E\" formula=\"P*%u*%u*60\" unit=\"J\" "
           "tolerance=\"2%%\"/></point>\n"
           "          </route>\n"
           "          <route name=\"energy of each metre first\">\n"
           "            <point kind=\"implied\">multiplies power by the time in seconds</point>\n"
           "            <point kind=\"accuracy\" follow=\"no\">value <number formula=\"P*%u\" unit=\"J\" "
           "tolerance=\"2%%\"/></point>\n"
           "          </route>\n"
           "        </routes>\n"
           "      </scheme>\n"
           "    </part>\n",
           beach, minutes, beach, minutes, beach * minutes * 60);
}

static void print_groups(void)
{
    const char *first = organisms[below(3)], *second = organisms[3 + below(3)];
    printf("    <part id=\"b\" objective=\"AO1\" command=\"name\" marks=\"4\" skills=\"practical\">\n"
           "      <ask><p>Name two animals and say how they keep from drying out.</p></ask>\n"
           "      <scheme>\n"
           "        <list take=\"2\" rule=\"cancel\">\n"
           "          <point>%s <key>%s</key></point>\n"
           "          <point>%s <key>%s</key></point>\n"
           "          <ignore>shellfish</ignore><reject>crab</reject>\n"
           "        </list>\n"
           "        <any take=\"1\">\n"
           "          <point>closes its shell <key>close / shut</key></point>\n"
           "          <point>keeps water inside <key>water</key></point>\n"
           "        </any>\n"
           "        <all marks=\"1\">\n"
           "          <point>named zone <key>zone</key></point>\n"
           "          <point>time out of the water <key>exposed / emersion</key></point>\n"
           "        </all>\n"
           "      </scheme>\n"
           "    </part>\n",
           first, first, second, second);
}

static void print_levels(void)
{
    printf("    <part id=\"b\" objective=\"AO3\" command=\"evaluate\" marks=\"6\">\n"
           "      <ask><p>Evaluate the plan to build a wall.</p></ask>\n"
           "      <scheme>\n"
           "        <levels>\n"
           "          <level marks=\"1-2\">Simple statements, one side only.</level>\n"
           "          <level marks=\"3-4\">A developed argument on both sides with a supported judgement.</level>\n"
           "          <strand name=\"Use of the data\"><at level=\"1\">none</at><at level=\"2\">compared</at></strand>\n"
           "          <cap level=\"1\">no judgement</cap>\n"
           "          <indicative>\n"
           "            <point>the wall protects the road <key>protect</key></point>\n"
           "            <point>the wall costs habitat <key>habitat</key></point>\n"
           "          </indicative>\n"
           "        </levels>\n"
           "        <quality><band marks=\"2\">Clear.</band><band marks=\"1\">Mostly clear.</band></quality>\n"
           "      </scheme>\n"
           "    </part>\n");
}

static void print_givens(void)
{
    printf("    <given symbol=\"H\" unit=\"m\" choices=\"1.%u 1.5 2.0\">wave height</given>\n"
           "    <given symbol=\"T\" unit=\"s\" from=\"6.0\" to=\"9.0\" step=\"0.5\">wave period</given>\n"
           "    <given symbol=\"n\" value=\"%u\">number of waves</given>\n"
           "    <given symbol=\"t\" unit=\"s\" formula=\"n*T\" places=\"0\">time for all the waves</given>\n",
           below(5), 10 + below(10));
}

static void print_question(unsigned number)
{
    printf("  <question id=\"q%05u\" topic=\"%s\" demand=\"%s\">\n", number, topics[number % 3], demands[below(3)]);
    print_stem(number, number % 4 == 1);
    switch (number % 4) {
    case 0: print_explanation(); print_levels(); break;
    case 1: print_givens(); print_calculation(); print_routes(); break;
    default: print_explanation(); print_groups(); break;
    }
    printf("    <note><p>Powers go with the square of the height.</p></note>\n"
           "  </question>\n");
}

int main(int count, char **arguments)
{
    if (count < 2 || count > 3) {
        fprintf(stderr, "make-bank N [SEED]: prints a bank of N questions\n");
        return 2;
    }
    unsigned long questions = strtoul(arguments[1], NULL, 10);
    state = count == 3 ? strtoull(arguments[2], NULL, 10) : 1;
    fputs(course, stdout);
    for (unsigned long i = 0; i < questions; i++)
        print_question((unsigned)i);
    puts("</bank>");
    return fflush(stdout) == 0 ? 0 : 3;
}
