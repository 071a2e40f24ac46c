package idlewright.frame.rules;

import com.google.zxing.BarcodeFormat;
import com.google.zxing.EncodeHintType;
import com.google.zxing.WriterException;
import com.google.zxing.common.BitMatrix;
import com.google.zxing.qrcode.QRCodeWriter;
import com.google.zxing.qrcode.decoder.ErrorCorrectionLevel;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Base64;
import java.util.Map;
import javax.imageio.ImageIO;

/**
 * A QR code (ISO/IEC 18004, error correction M) with its quiet zone: as an SVG path on screen, as a PNG on paper.
 *
 * @param side modules along a side, quiet zone included
 * @param path the dark modules as an SVG path, one unit to a module
 * @param png the same as a data URI, eight pixels to a module
 */
public record Qr(int side, String path, String png) {

    private static final int PIXELS = 8;

    /** The code that reads as this text; at most 2,331 bytes go in. */
    public static Qr of(String text) {
        try {
            var modules = new QRCodeWriter()
                    .encode(
                            text,
                            BarcodeFormat.QR_CODE,
                            0,
                            0,
                            Map.of(
                                    EncodeHintType.ERROR_CORRECTION,
                                    ErrorCorrectionLevel.M,
                                    EncodeHintType.CHARACTER_SET,
                                    "UTF-8",
                                    EncodeHintType.MARGIN,
                                    4));
            return new Qr(modules.getWidth(), path(modules), png(modules));
        } catch (WriterException e) {
            throw new IllegalArgumentException("too much for a QR code: " + text.length() + " letters", e);
        }
    }

    private static String path(BitMatrix modules) {
        var path = new StringBuilder();
        for (int y = 0; y < modules.getHeight(); y++) {
            for (int x = 0; x < modules.getWidth(); x++) {
                var run = x;
                while (run < modules.getWidth() && modules.get(run, y)) {
                    run++;
                }
                if (run > x) {
                    path.append('M')
                            .append(x)
                            .append(' ')
                            .append(y)
                            .append('h')
                            .append(run - x)
                            .append("v1H")
                            .append(x)
                            .append('z');
                    x = run;
                }
            }
        }
        return path.toString();
    }

    private static String png(BitMatrix modules) {
        var side = modules.getWidth() * PIXELS;
        var image = new BufferedImage(side, side, BufferedImage.TYPE_BYTE_BINARY);
        for (int y = 0; y < side; y++) {
            for (int x = 0; x < side; x++) {
                image.setRGB(x, y, modules.get(x / PIXELS, y / PIXELS) ? 0x000000 : 0xffffff);
            }
        }
        var out = new ByteArrayOutputStream();
        try {
            ImageIO.write(image, "png", out);
        } catch (IOException impossible) {
            throw new UncheckedIOException(impossible);
        }
        return "data:image/png;base64," + Base64.getEncoder().encodeToString(out.toByteArray());
    }
}
