#include "unit/cw_test.h"
int main(void){return 0;}
