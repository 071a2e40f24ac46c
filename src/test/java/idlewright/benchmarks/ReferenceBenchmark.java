package idlewright.benchmarks;

import idlewright.bench.rules.Catalogue;
import idlewright.bench.rules.Causes;
import idlewright.bench.rules.Evidence;
import idlewright.bench.rules.Learned;
import idlewright.bench.rules.NextTest;
import idlewright.bench.rules.NextTest.AtHand;
import idlewright.bench.rules.Ranking;
import idlewright.bench.rules.Trait;
import idlewright.bench.rules.VehicleFacts;
import idlewright.reference.obd.Obd;
import idlewright.reference.sweep.Sweep;
import idlewright.reference.sweep.SweepOptions;
import java.lang.management.ManagementFactory;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.function.IntSupplier;

/**
 * How fast the calculations are. Not a test; run it by hand:
 *
 * <pre>
 * mvn -Dquick test-compile dependency:build-classpath -Dmdep.outputFile=target/classpath
 * java -Xmx512m -cp target/test-classes:target/classes:$(cat target/classpath) idlewright.benchmarks.ReferenceBenchmark
 * </pre>
 *
 * <p>Seven rounds of half a second each, the first two thrown away; told are the middle of the rest by the clock and, as the
 * machine may be busy with other work, by the processor time of the thread. {@link LogBenchmark} does the same for logs.
 */
public final class ReferenceBenchmark {

    private static final int ROUNDS = 7;
    private static final int WARM = 2;
    private static final long ROUND_NANOS = 500_000_000;

    private static final VehicleFacts CAR =
            new VehicleFacts(4.4, 8, 2, Map.of(Trait.MASS_AIR_FLOW, true, Trait.MANIFOLD_PRESSURE, false));

    /** Kept, so that nothing is optimised away. */
    private static long sink;

    public static void main(String[] args) {
        double load = ManagementFactory.getOperatingSystemMXBean().getSystemLoadAverage();
        System.out.printf(
                Locale.ROOT,
                "Java %s, %d processors, load %.1f%n",
                Runtime.version(),
                Runtime.getRuntime().availableProcessors(),
                load);
        decoding();
        sweeping();
        ranking();
        System.out.printf(Locale.ROOT, "(checksum %d)%n", sink);
    }

    private static void decoding() {
        List<String> plain = List.of("41 0C 1A F8", "41 0D 40", "41 05 7B", "41 10 95 11", "41 14 5A 80");
        List<String> mixed = List.of(
                "41 0C 1A F8",
                "7E8 04 41 0C 1A F8 AA AA AA",
                "SEARCHING...\r41 05 7B\r\r>",
                "41 01 83 07 FF 00",
                "00A\r0: 47 04 01 08 01 18\r1: 01 19 01 20 00 00",
                "014\r0: 49 02 01 31 47 34\r1: 41 48 35 39 48 34 35\r2: 47 31 31 38 33 34 31",
                "41 34 80 00 80 00",
                "7F 01 12");
        measure("decoding single values", "responses/s", () -> decode(plain));
        measure("decoding with chatter, codes, VIN, refusals", "responses/s", () -> decode(mixed));
    }

    private static int decode(List<String> responses) {
        for (String each : responses) {
            sink += Obd.decode(each).values().size();
        }
        return responses.size();
    }

    private static void sweeping() {
        for (int points : new int[] {200, 10_000}) {
            double[] x = new double[points];
            double[] y = new double[points];
            var random = new SplittableRandom(15);
            Arrays.setAll(x, i -> 700 + 2800.0 * i / (points - 1));
            Arrays.setAll(
                    y,
                    i -> Math.rint(100 * (1 + 3 * (Math.sqrt(i / (points - 1.0)) + 0.005 * random.nextGaussian())))
                            / 100);
            measure("judging a sweep of %,d points".formatted(points), "sweeps/s", () -> {
                sink += Sweep.judge(x, y, SweepOptions.over("rpm")).features().size();
                return 1;
            });
        }
    }

    private static void ranking() {
        Catalogue catalogue = Catalogue.load();
        List<Evidence> evidence = evidence(catalogue);
        String what = "%d causes x %d procedures, %d pieces of evidence"
                .formatted(catalogue.causes().size(), catalogue.procedures().size(), evidence.size());
        measure("ranking, " + what, "rankings/s", () -> {
            sink += rank(catalogue, evidence).causes().size();
            return 1;
        });
        Ranking ranked = rank(catalogue, evidence);
        measure("planning the next tests after it", "plans/s", () -> {
            sink += new NextTest(catalogue)
                    .plan(ranked, evidence, Set.of(), AtHand.everything(), CAR)
                    .ready()
                    .size();
            return 1;
        });
        Ranking fresh = rank(catalogue, List.of());
        measure("planning with nothing known", "plans/s", () -> {
            sink += new NextTest(catalogue)
                    .plan(fresh, List.of(), Set.of(), AtHand.everything(), CAR)
                    .ready()
                    .size();
            return 1;
        });
    }

    private static Ranking rank(Catalogue catalogue, List<Evidence> evidence) {
        return new Causes(catalogue).rank("hesitation", evidence, Learned.nothing(), CAR);
    }

    /** The first outcome of each of the first twenty groups. */
    private static List<Evidence> evidence(Catalogue catalogue) {
        var evidence = new ArrayList<Evidence>();
        catalogue
                .procedures()
                .forEach(procedure -> procedure
                        .groups()
                        .forEach(group -> evidence.add(new Evidence(
                                procedure.key(), group.outcomes().get(0).key(), Instant.EPOCH))));
        return evidence.subList(0, 20);
    }

    /** The work gives back how many it did. */
    private static void measure(String what, String unit, IntSupplier work) {
        var threads = ManagementFactory.getThreadMXBean();
        double[] clock = new double[ROUNDS];
        double[] processor = new double[ROUNDS];
        for (int round = 0; round < ROUNDS; round++) {
            long done = 0;
            long start = System.nanoTime();
            long cpu = threads.getCurrentThreadCpuTime();
            while (System.nanoTime() - start < ROUND_NANOS) {
                done += work.getAsInt();
            }
            processor[round] = done * 1e9 / (threads.getCurrentThreadCpuTime() - cpu);
            clock[round] = done * 1e9 / (System.nanoTime() - start);
        }
        System.out.printf(
                Locale.ROOT,
                "%-60s %,12.0f %s by clock, %,12.0f by processor (%.1f us each)%n",
                what,
                middle(clock),
                unit,
                middle(processor),
                1e6 / middle(processor));
    }

    private static double middle(double[] rounds) {
        double[] counted = Arrays.copyOfRange(rounds, WARM, rounds.length);
        Arrays.sort(counted);
        return counted[counted.length / 2];
    }

    private ReferenceBenchmark() {}
}
