#include "commands/command.h"

int main(int count, char **words)
{
    return command_main(count, words);
}
