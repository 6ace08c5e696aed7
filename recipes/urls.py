app_name = "recipes"
urlpatterns: list = []
