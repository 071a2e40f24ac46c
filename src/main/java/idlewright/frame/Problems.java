package idlewright.frame;

import jakarta.servlet.http.HttpServletResponse;
import java.util.Map;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;
import org.springframework.web.context.request.RequestContextHolder;
import org.springframework.web.context.request.ServletRequestAttributes;

/** Shows a form again with what was wrong beside each field; what was typed is in the model already. */
@Component
public class Problems {

    public String show(Model model, Refused refused, String template) {
        return show(model, refused.problems(), template);
    }

    public String show(Model model, Map<String, String> problems, String template) {
        model.addAttribute("problems", problems);
        if (RequestContextHolder.getRequestAttributes() instanceof ServletRequestAttributes web) {
            HttpServletResponse response = web.getResponse();
            if (response != null) {
                response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
            }
        }
        return template;
    }
}
