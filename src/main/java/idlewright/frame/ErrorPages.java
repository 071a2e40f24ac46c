package idlewright.frame;

import java.util.Map;
import org.springframework.boot.webmvc.autoconfigure.error.ErrorViewResolver;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.web.servlet.ModelAndView;

/** What no screen answers is told by one page, by its status alone. */
@Configuration(proxyBeanMethods = false)
class ErrorPages {

    @Bean
    ErrorViewResolver errorPage() {
        return (request, status, model) -> new ModelAndView("frame/error", Map.of("status", status.value()), status);
    }
}
