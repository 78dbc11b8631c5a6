/* libnova: VSOP87 and ELP 2000-82. Its places are of J2000 and contain light time;
   aberration, precession and nutation are added, where it can, by its own functions. */

#include <libnova/libnova.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { BODIES = 9, MOST = 1000000 };
static double moments[MOST], found[MOST][BODIES];

typedef void (*place)(double, struct ln_equ_posn *);
static const place planets[] = {
    ln_get_mercury_equ_coords, ln_get_venus_equ_coords,  ln_get_mars_equ_coords,
    ln_get_jupiter_equ_coords, ln_get_saturn_equ_coords, ln_get_uranus_equ_coords,
    ln_get_neptune_equ_coords};

/* From the ecliptic and equinox of J2000 to those of date: Meeus, Astronomical
   Algorithms, equations 21.5 to 21.7. */
static double of_date(const struct ln_lnlat_posn *at, double t) {
    const double arcsec = M_PI / 648000, degree = M_PI / 180;
    double eta = (47.0029 - 0.03302 * t) * t * arcsec;
    double node = 174.876384 * degree - (869.8089 - 0.03536 * t) * t * arcsec;
    double p = (5029.0966 + 1.11113 * t) * t * arcsec;
    double lng = at->lng * degree, lat = at->lat * degree;
    double a = cos(eta) * cos(lat) * sin(node - lng) - sin(eta) * sin(lat);
    double b = cos(lat) * cos(node - lng);
    return (p + node - atan2(a, b)) / degree;
}

static void longitudes(double jd, double *found) {
    double t = (jd - 2451545.0) / 36525.0;
    struct ln_nutation nutation;
    struct ln_lnlat_posn ecliptic;
    ln_get_nutation(jd, &nutation);

    /* Of its apparent Sun the aberration is 360 times too small. */
    struct ln_helio_posn sun;
    ln_get_solar_geom_coords(jd, &sun);
    ecliptic.lng = sun.L;
    ecliptic.lat = sun.B;
    found[0] = of_date(&ecliptic, t) + nutation.longitude - 20.4898 / 3600 / sun.R;
    ln_get_lunar_ecl_coords(jd, &ecliptic, 0.0);
    found[1] = of_date(&ecliptic, t) + nutation.longitude;
    for (int i = 0; i < 7; i++) {
        struct ln_equ_posn j2000, seen, date;
        planets[i](jd, &j2000);
        ln_get_equ_aber(&j2000, jd, &seen);
        ln_get_equ_prec(&seen, jd, &date);
        ln_get_ecl_from_equ(&date, jd, &ecliptic);
        found[2 + i] = ecliptic.lng + nutation.longitude;
    }
}

int main(int count, char **arguments) {
    if (count != 4) return 2;
    FILE *file = fopen(arguments[1], "r");
    int n = 0;
    while (file && n < MOST && fscanf(file, "%lf", &moments[n]) == 1) n++;
    for (int run = atoi(arguments[3]); run > 0; run--) {
        struct timespec begin, end;
        clock_gettime(CLOCK_MONOTONIC, &begin);
        for (int i = 0; i < n; i++) longitudes(moments[i], found[i]);
        clock_gettime(CLOCK_MONOTONIC, &end);
        printf("%.9f\n", end.tv_sec - begin.tv_sec + 1e-9 * (end.tv_nsec - begin.tv_nsec));
    }
    file = fopen(arguments[2], "w");
    for (int i = 0; file && i < n; i++)
        for (int body = 0; body < BODIES; body++)
            fprintf(file, "%.9f%c", found[i][body], body + 1 < BODIES ? ',' : '\n');
    return !file || fclose(file);
}
