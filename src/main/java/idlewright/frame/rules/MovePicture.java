package idlewright.frame.rules;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.RenderingHints;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import javax.imageio.ImageIO;
import javax.imageio.stream.MemoryCacheImageOutputStream;
import org.jspecify.annotations.Nullable;

/** A reading before and after the repair against its limits, small enough for a cell: grey band, hollow before, full after. */
public final class MovePicture {

    private static final int WIDTH = 240;
    private static final int HEIGHT = 40;
    private static final int DOT = 20;

    private MovePicture() {}

    /** A PNG in greys without transparency, as paper for keeping wants it; a limit or a reading may be missing. */
    public static byte[] png(
            @Nullable Double low, @Nullable Double high, @Nullable Double before, @Nullable Double after) {
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        for (Double each : new Double[] {low, high, before, after}) {
            if (each != null && Double.isFinite(each)) {
                least = Math.min(least, each);
                most = Math.max(most, each);
            }
        }
        double width = most > least ? most - least : 1;
        Axis axis = new Axis(least - width / 4, least + width * 5 / 4, width);
        var image = new BufferedImage(WIDTH, HEIGHT, BufferedImage.TYPE_BYTE_GRAY);
        var pen = image.createGraphics();
        pen.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
        pen.setRenderingHint(RenderingHints.KEY_STROKE_CONTROL, RenderingHints.VALUE_STROKE_PURE);
        pen.setColor(Color.WHITE);
        pen.fillRect(0, 0, WIDTH, HEIGHT);
        double from = low == null ? 0 : x(axis, low);
        double to = high == null ? WIDTH : x(axis, high);
        pen.setColor(new Color(0xd0d0d0));
        pen.fill(new Rectangle2D.Double(from, 4, Math.max(2, to - from), HEIGHT - 8));
        pen.setColor(new Color(0x666666));
        pen.setStroke(new BasicStroke(2));
        pen.draw(new Line2D.Double(0, HEIGHT / 2.0, WIDTH, HEIGHT / 2.0));
        if (low != null) pen.draw(new Line2D.Double(from, 4, from, HEIGHT - 4));
        if (high != null) pen.draw(new Line2D.Double(to, 4, to, HEIGHT - 4));
        pen.setStroke(new BasicStroke(4));
        if (before != null) {
            pen.setColor(Color.WHITE);
            pen.fill(dot(axis, before));
            pen.setColor(Color.BLACK);
            pen.draw(dot(axis, before));
        }
        if (after != null) {
            pen.setColor(Color.BLACK);
            pen.fill(dot(axis, after));
        }
        pen.dispose();
        // Not through ImageIO's own search for an output, which writes a file for each picture.
        var bytes = new ByteArrayOutputStream();
        try (var out = new MemoryCacheImageOutputStream(bytes)) {
            ImageIO.write(image, "png", out);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }

    private static double x(Axis axis, double value) {
        return axis.place(value) / 100 * WIDTH;
    }

    private static Ellipse2D dot(Axis axis, double value) {
        double size = DOT - 4;
        return new Ellipse2D.Double(x(axis, value) - size / 2, (HEIGHT - size) / 2, size, size);
    }
}
