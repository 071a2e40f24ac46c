package idlewright.benchmarks;

import idlewright.billing.InvoiceView;
import idlewright.billing.SampleInvoice;
import idlewright.frame.Paper;
import idlewright.frame.TrialPaper;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/**
 * What an invoice on paper costs: one of 40 rows, and a further row. Not a test: run it by hand. Sizes alternate in one
 * run; told are the medians by clock and by processor time of the thread, because the machine may be busy with other work.
 */
public final class PaperBenchmark {

    private static final int ROUNDS = 60;

    private PaperBenchmark() {}

    public static void main(String[] args) {
        Paper paper = TrialPaper.paper();
        InvoiceView[] invoices = {SampleInvoice.usual(40), SampleInvoice.usual(240)};
        for (int i = 0; i < 60; i++) {
            print(paper, invoices[i % 2]);
        }
        var clock = new double[2][ROUNDS];
        var processor = new double[2][ROUNDS];
        ThreadMXBean threads = ManagementFactory.getThreadMXBean();
        for (int round = 0; round < ROUNDS; round++) {
            for (int size = 0; size < 2; size++) {
                long start = System.nanoTime();
                long cpu = threads.getCurrentThreadCpuTime();
                print(paper, invoices[size]);
                clock[size][round] = (System.nanoTime() - start) / 1e6;
                processor[size][round] = (threads.getCurrentThreadCpuTime() - cpu) / 1e6;
            }
        }
        tell("by clock", clock);
        tell("by processor", processor);
    }

    private static void print(Paper paper, InvoiceView invoice) {
        if (paper.pdf("billing/paper", SampleInvoice.model(invoice, "A4"), List.of()).length == 0) {
            throw new IllegalStateException("nothing was printed");
        }
    }

    private static void tell(String how, double[][] times) {
        double small = median(times[0]);
        double large = median(times[1]);
        System.out.printf(
                Locale.ROOT,
                "%s: 40 rows %.1f ms, 240 rows %.1f ms, %.2f ms a further row%n",
                how,
                small,
                large,
                (large - small) / 200);
    }

    private static double median(double[] values) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        return sorted[sorted.length / 2];
    }
}
