package idlewright.reference.economy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import idlewright.reference.OpenData;
import idlewright.reference.air.Airflow;
import idlewright.reference.air.Engine;
import idlewright.reference.lambda.Fuel;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.apache.commons.statistics.inference.TTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class EconomyTest {

    // Computed from 235.214583 and 282.480936.
    @ParameterizedTest
    @CsvSource({"30, 7.840", "25, 9.409", "29.402, 8.000"})
    void turnsUsMilesPerGallonIntoLitres(double mpg, double litres) {
        Consumption trip = new Consumption(100, 235.214583 / mpg);
        assertThat(trip.litresPer100Km()).isCloseTo(litres, within(5e-4));
        assertThat(trip.mpgUs()).isCloseTo(mpg, within(1e-6));
        assertThat(trip.mpgImperial() * trip.litresPer100Km()).isCloseTo(282.480936, within(1e-6));
    }

    @Test
    void turnsImperialMilesPerGallonIntoLitres() {
        assertThat(new Consumption(100, 7.062).mpgImperial()).isCloseTo(40, within(1e-3));
    }

    @Test
    void countsFromFullTankToFullTank() {
        Tanks tanks = Tanks.of(List.of(
                new FillUp(9_700, 15, false),
                new FillUp(10_000, 40, true),
                new FillUp(10_300, 20, false),
                new FillUp(10_600, 34, true),
                new FillUp(11_000, 32, true),
                new FillUp(11_200, 10, false)));
        assertThat(tanks.spans()).containsExactly(new Consumption(600, 54), new Consumption(400, 32));
        assertThat(tanks.total().orElseThrow().litresPer100Km()).isCloseTo(8.6, within(1e-12));
    }

    @Test
    void weighsByDistanceAndNotByTank() {
        Consumption both = new Consumption(900, 63).plus(new Consumption(100, 15));
        assertThat(both.litresPer100Km()).isCloseTo(7.8, within(1e-12));
    }

    @Test
    void countsInGallonsAndMilesToo() {
        Tanks us = Tanks.of(List.of(FillUp.us(10_000, 12, true), FillUp.us(10_300, 10, true)));
        assertThat(us.total().orElseThrow().mpgUs()).isCloseTo(30, within(1e-9));
        Tanks imperial = Tanks.of(List.of(FillUp.imperial(10_000, 10, true), FillUp.imperial(10_400, 10, true)));
        assertThat(imperial.total().orElseThrow().mpgImperial()).isCloseTo(40, within(1e-9));
    }

    // Outside check: Welch's t test of commons-statistics 1.2; over equal distances the two must agree on "chance".
    @Test
    void agreesWithWelchsTestOverEqualDistances() {
        int disagreed = 0;
        SplittableRandom random = new SplittableRandom(11);
        for (int round = 0; round < 300; round++) {
            double[] old = tanks(random, 9.8, 3 + round % 4);
            double[] now = tanks(random, 9.3, 3 + round % 3);
            Change change = Change.between(sideOf(old), sideOf(now));
            double p = TTest.withDefaults().test(old, now).getPValue();
            if (change.real() != p < 0.05) {
                disagreed++;
            }
        }
        assertThat(disagreed).isZero();
    }

    @Test
    void saysWhetherASavingIsMoreThanChance() {
        Change change = Change.between(sideOf(9.8, 9.9, 9.7, 10.0), sideOf(8.8, 9.0, 8.9, 8.7));
        assertThat(change.real()).isTrue();
        assertThat(change.words())
                .startsWith("9.9 to 8.9 L/100 km: 1.0 L/100 km better, likely between")
                .endsWith("That is more than chance.");
        assertThat(change.wordsUs()).isEqualTo("23.9 to 26.6 mpg US: 10 % less fuel. That is more than chance.");
        Change chance = Change.between(sideOf(9.8), sideOf(9.5));
        assertThat(chance.words()).endsWith("That could be chance: more tanks would tell.");
        assertThat(chance.savedLow()).isNegative();
        assertThat(Change.between(sideOf(8.0, 8.1, 7.9), sideOf(9.5, 9.6, 9.4)).words())
                .contains("worse by more than");
    }

    // Printed formula: mpg = 14.7 x 6.17 x 454 x km/h x 0.621371 / (3600 x g/s) = 7.107 x km/h / g/s, which weighs
    // 739.33 g/L.
    @Test
    void meetsThePrintedMilesPerGallonFormula() {
        Fuel light = new Fuel("6.17 lb/gal", 14.7, 6.17 * 453.59237 / 3.785411784, true);
        Consumption now = FuelFromAir.atSpeed(100, FuelFromAir.litresPerHour(20, light));
        assertThat(now.mpgUs()).isCloseTo(7.10096 * 100 / 20, within(1e-4));
    }

    @Test
    void estimatesFuelFromAirWithTheRightStoichiometry() {
        assertThat(FuelFromAir.litresPerHour(1, Fuel.PETROL)).isCloseTo(0.32872, within(5e-6));
        // E10 on 14.7 reads 4 % low in mass.
        double massOnE10 = FuelFromAir.litresPerHour(10, Fuel.E10) * Fuel.E10.densityGPerL();
        double massOnPetrol = FuelFromAir.litresPerHour(10, Fuel.PETROL) * Fuel.PETROL.densityGPerL();
        assertThat(massOnE10 / massOnPetrol).isCloseTo(1.0426, within(5e-4));
        assertThat(FuelFromAir.litresPerHourTrimmed(10, Fuel.PETROL, 12)).isCloseTo(3.2872 * 1.12, within(1e-3));
    }

    @Test
    void refusesToEstimateADieselFromItsAir() {
        assertThatThrownBy(() -> FuelFromAir.litresPerHour(30, Fuel.DIESEL))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("not throttled and runs lean");
    }

    // enviroCar track 1 (ODbL): 42.417 km, 3.598 L, 8.48 L/100 km by trapezoids; flow = 0.85 x ideal speed-density
    // flow.
    @Test
    void addsUpAnOpenPetrolDrive() {
        // The last row holds a position only.
        List<String[]> rows = OpenData.table("envirocar-track-1.csv").stream()
                .filter(row -> !row[8].isEmpty())
                .toList();
        double[] seconds = OpenData.column(rows, 0);
        double[] flow = OpenData.column(rows, 8);
        double[] litresPerHour = new double[flow.length];
        Engine engine = Engine.fourStroke(1.798, 4);
        for (int i = 0; i < flow.length; i++) {
            String[] row = rows.get(i);
            litresPerHour[i] = FuelFromAir.litresPerHour(flow[i], Fuel.PETROL);
            assertThat(litresPerHour[i]).isCloseTo(Double.parseDouble(row[9]), within(2e-5 * (1 + litresPerHour[i])));
            double rpm = Double.parseDouble(row[1]);
            double kpa = Double.parseDouble(row[2]);
            if (rpm >= 1 && kpa >= 5) {
                double expected = Airflow.speedDensityGps(engine, rpm, kpa, Double.parseDouble(row[3]), 85);
                assertThat(flow[i]).isCloseTo(expected, within(0.001 * expected));
            }
        }
        double km = Trip.sum(seconds, OpenData.column(rows, 6), 3600).total();
        double litres = Trip.sum(seconds, litresPerHour, 3600).total();
        assertThat(km).isCloseTo(42.417, within(5e-4));
        assertThat(litres).isCloseTo(3.598, within(5e-4));
        assertThat(new Consumption(km, litres).litresPer100Km()).isCloseTo(8.48, within(5e-3));
    }

    // Open diesel drive (MIT): 38.00 km, 1.980 L, 5.21 L/100 km.
    @Test
    void addsUpAnOpenDieselDriveFromItsFuelRate() {
        List<String[]> rows = OpenData.table("volvo-diesel-maf-fuelrate.csv");
        double km = sum(rows, "Vehicle speed");
        double litres = sum(rows, "Engine fuel rate");
        assertThat(km).isCloseTo(38.00, within(0.005));
        assertThat(litres).isCloseTo(1.980, within(5e-4));
        assertThat(new Consumption(km, litres).litresPer100Km()).isCloseTo(5.21, within(5e-3));
    }

    @Test
    void leavesLongGapsOutAndSaysHowLong() {
        Trip trip = Trip.sum(new double[] {0, 10, 1000, 1010}, new double[] {36, 36, 36, 36}, 60);
        assertThat(trip.total()).isCloseTo(0.2, within(1e-12));
        assertThat(trip.secondsMissing()).isEqualTo(990);
        assertThat(trip.secondsCounted()).isEqualTo(20);
    }

    @Test
    void refusesWhatCannotBe() {
        assertThatThrownBy(() -> new FillUp(100, 0, true)).hasMessageContaining("between 0.1 and 2,000 L");
        assertThatThrownBy(() -> Tanks.of(List.of(new FillUp(200, 30, true), new FillUp(150, 30, true))))
                .hasMessageContaining("odometer must rise");
        assertThatThrownBy(() -> Change.between(Tanks.of(List.of()), sideOf(8)))
                .hasMessage("two full tanks before the repair are needed");
        assertThatThrownBy(() -> new Consumption(0, 3)).hasMessageContaining("distance");
        assertThatThrownBy(() -> Trip.sum(new double[] {0, -1}, new double[] {1, 1}, 10))
                .hasMessageContaining("goes back");
        assertThatThrownBy(() -> Trip.sum(new double[] {0}, new double[] {1}, 10))
                .hasMessageContaining("2 points");
    }

    private static double sum(List<String[]> rows, String quantity) {
        List<String[]> its =
                rows.stream().filter(row -> row[1].equals(quantity)).toList();
        return Trip.sum(OpenData.column(its, 0), OpenData.column(its, 2), 3600).total();
    }

    private static double[] tanks(SplittableRandom random, double centre, int n) {
        double[] rates = new double[n];
        for (int i = 0; i < n; i++) {
            // Wide enough that the scatter always outweighs the pump's click.
            rates[i] = centre + (i % 2 == 0 ? 0.6 : -0.6) + random.nextDouble(-0.5, 0.5);
        }
        return rates;
    }

    private static Tanks sideOf(double... litresPer100Km) {
        List<Consumption> spans = new ArrayList<>();
        for (double each : litresPer100Km) {
            spans.add(new Consumption(600, 6 * each));
        }
        return new Tanks(spans);
    }
}
